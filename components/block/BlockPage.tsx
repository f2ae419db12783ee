/**
 * The page at the block: one weight at a time, as large as the screen allows. Keyed in with wet gloves or on any keyboard,
 * read as a kitchen writes, echoed at once, kept the moment "next" is pressed. What is left to account for is always in
 * sight; when the parts do not add up the likeliest slips are asked about, and nothing is changed by itself.
 */
"use client";
import Link from "next/link";
import { useRouter } from "next/navigation";
import { type KeyboardEvent, useEffect, useMemo, useRef, useState } from "react";
import { type BlockBody, type PartRole, type Weighing, WHOLES, likeliestFirst, nextStop, partKeyFor, stopsOf, usualWeight, weighedSoFar, weightOf } from "@/lib/book";
import { type Habits, type Quantity, type ScaleChoice, type ScaleReading, netWeight, quantityText, readAtScale, weighingsOf } from "@/lib/measure";
import type { SheetsAnswer } from "@/lib/store";
import { type Slip, type Usual, likeliestSlips } from "@/lib/yield";
import type { Choice } from "@/components/form";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { KINDS } from "@/components/yield-test/kinds";
import { AboutSheet, AddPart, AskScale, NoteSheet } from "./Asides";
import { Balance } from "./Balance";
import { BlockCautions } from "./BlockCautions";
import { Keypad } from "./Keypad";
import { rememberScale, rememberTub, rememberedScale, useRememberedTubs } from "./remembered";
import { type Key, asRead, pieces, press, unitKeys } from "./typed-weight";
import { useSheet } from "./use-sheet";
import { WeighedRows } from "./WeighedRows";
import "./block.css";

export interface BlockPageProps {
  readonly sheetId: string;
  readonly start: SheetsAnswer;
  /** What is being worked. */
  readonly name: string;
  readonly dealers: readonly Choice[];
  /** What earlier tests of the same thing say; null while there are none. */
  readonly usual: Usual | null;
}

/** What the next reading does: fills an empty row, takes the place of what was read, or adds a further go. */
type Doing = "first" | "again" | "more";
type Aside = "about" | "part" | "note" | "tub" | null;

export function BlockPage({ sheetId, start, name, dealers, usual }: BlockPageProps) {
  const { habits } = useKitchen();
  const router = useRouter();
  const { keeper, kept, sheet } = useSheet(sheetId, start);
  const [chosen, setChosen] = useState<{ readonly key: string; readonly doing: Doing } | null>(null);
  const [text, setText] = useState("");
  const [asked, setAsked] = useState<{ readonly sentence: string; readonly choices: readonly ScaleChoice[] } | null>(null);
  const [aside, setAside] = useState<Aside>(null);
  const tubs = useRememberedTubs();
  const [tub, setTub] = useState<Quantity | null>(null);
  const [byPiece, setByPiece] = useState(false);
  const [said, setSaid] = useState("");
  const field = useRef<HTMLInputElement>(null);

  const about = sheet.about;
  const scale = about?.scale ?? null;
  const [large, small] = unitKeys(scale, habits.measures);
  const mark = new Intl.NumberFormat(habits.locale).formatToParts(1.5).find((part) => part.type === "decimal")?.value ?? ".";
  const stops = stopsOf(sheet);
  const current = chosen !== null && stops.some(({ key }) => key === chosen.key) ? chosen : { key: nextStop(sheet) ?? "", doing: "first" as const };
  const stop = stops.find(({ key }) => key === current.key) ?? null;
  const done = stop === null;
  const labelOf = (weighing: Weighing): string => sheet.parts.find(({ key }) => key === weighing.key)?.name ?? wholeName(weighing.key, about?.test ?? "butcher");

  // How this device's scale reads is remembered from the last test.
  const askScale = about !== null && about.scale === null;
  useEffect(() => {
    const known = rememberedScale();
    if (askScale && known !== null && about !== null) keeper.add({ ...about, scale: known });
  }, [askScale, about, keeper]);
  useEffect(() => { prepareForNoConnection(); }, []);
  useEffect(() => { if (aside === null) field.current?.focus({ preventScroll: true }); }, [aside, current.key]);

  const weighed = useMemo(() => weighedSoFar(sheet, habits), [sheet, habits]);
  const slips = useMemo(() => {
    if (weighed === null) return [];
    const readings = new Map(sheet.parts.map((part) => [part.key, weighingsOf(part.readings)]));
    const untared = new Set(sheet.parts.filter((part) => part.readings.some(({ tare }) => tare === null)).map(({ key }) => key));
    return likeliestSlips(weighed, { scale, tares: tubs, untared, weighings: readings, usual, finished: done });
  }, [weighed, sheet, scale, tubs, usual, done]);

  if (about === null) return null;

  /** Reads what is keyed in; null after asking about it. */
  const read = (typed: string): Quantity | null => {
    const answer = readAtScale(asRead(typed, scale), scale, habits);
    if (answer.ok) return answer.value;
    setAsked({ sentence: answer.problems[0]?.sentence ?? "That is no weight.", choices: stop === null || aside === "tub" ? answer.choices : likeliestFirst(answer.choices, sheet, stop.key, { scale, tares: tubs, usual, finished: true }, habits) });
    return null;
  };

  const weigh = (gross: Quantity): void => {
    if (stop === null) return;
    const net = netWeight([{ gross, tare: tub }], habits);
    if (!net.ok) {
      setAsked({ sentence: net.problems[0]?.sentence ?? "The tub does not fit this reading.", choices: [] });
      return;
    }
    const reading: BlockBody = { kind: "reading", key: stop.key, gross, tare: tub, piece: byPiece };
    const old: readonly BlockBody[] = current.doing === "again" ? stop.readings.map(({ entry }) => ({ kind: "back", entry })) : [];
    keeper.add(...old, ...(stop.none === null ? [] : [{ kind: "back" as const, entry: stop.none }]), reading);
    setSaid(`${labelOf(stop)}: ${quantityText(net.value, habits)}`);
    setText("");
    setAsked(null);
    // One piece after another stays at its part until somebody goes on.
    setChosen(byPiece ? { key: stop.key, doing: "more" } : null);
  };

  const takeTub = (weight: Quantity): void => {
    rememberTub(weight);
    setTub(weight);
    setText("");
    setAsked(null);
    setAside(null);
  };

  const go = (): void => {
    if (aside === "tub" && text !== "") {
      const weight = read(text);
      if (weight !== null) takeTub(weight);
      return;
    }
    if (text === "") {
      if (byPiece && stop !== null && stop.readings.length > 0) { setChosen(null); return; }
      if (done) finish();
      else setAsked({ sentence: `Key in what the scale shows for ${labelOf(stop)}, or say that there is none today.`, choices: [] });
      return;
    }
    const gross = read(text);
    if (gross !== null) weigh(gross);
  };

  const finish = (): void => {
    if (kept.waiting > 0) {
      void keeper.sync();
      setAsked({ sentence: "Everything is kept on this device, and waits for the connection: the result is worked out once the kitchen’s book has it.", choices: [] });
      return;
    }
    router.push(`/block/${encodeURIComponent(sheetId)}/result`);
  };

  const undo = (): void => {
    setAsked(null);
    if (text !== "") { setText(press(text, { press: "rub-out" }, mark)); return; }
    const last = sheet.undoable.at(-1);
    if (last === undefined) return;
    const of = kept.entries.find(({ id }) => id === last)?.body;
    keeper.add({ kind: "back", entry: last });
    if (of?.kind === "reading" || of?.kind === "none") {
      setChosen({ key: of.key, doing: "more" });
      setSaid("Taken back.");
    }
  };

  // A key of the screen takes the focus; it goes back to the figure, so that a real keyboard goes on from there.
  const refocus = (): void => field.current?.focus({ preventScroll: true });
  const onKey = (key: Key): void => { setAsked(null); setText((old) => press(old, key, mark)); refocus(); };
  const onKeyDown = (event: KeyboardEvent<HTMLInputElement>): void => {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { key } = event;
    const pressed: Key | null = /^\d$/.test(key) ? { press: "digit", digit: key } : key === "." || key === "," ? { press: "point" } : key === "Backspace" ? { press: "rub-out" }
      : key === "l" || key === "k" || key === "#" ? { press: "unit", unit: large } : key === "o" || key === "g" || key === " " || key === "-" ? { press: "unit", unit: key === " " || key === "-" ? large : small } : key === "/" ? { press: "fraction" } : null;
    if (pressed !== null) { event.preventDefault(); onKey(pressed); }
    else if (key === "Enter") { event.preventDefault(); go(); }
    else if (key.length === 1) event.preventDefault();
  };

  const applySlip = (slip: Slip): void => {
    const [at] = slip.at;
    const key = at === undefined ? undefined : keyAt(at.path, weighed?.parts.map((part) => part.key) ?? []);
    const row = stops.find((one) => one.key === key);
    if (at === undefined || row === undefined) return;
    keeper.add(...row.readings.map(({ entry }): BlockBody => ({ kind: "back", entry })), ...(at.wouldBe === null ? [{ kind: "none" as const, key: row.key }] : [{ kind: "reading" as const, key: row.key, gross: at.wouldBe, tare: null, piece: false }]));
  };

  const echo = echoOf(text, scale, tub, habits);
  const usualHere = stop === null || weighed === null ? null : usualWeight(usual, stop.key, weighed.billed);
  const rows = stops.filter(({ readings, none }) => readings.length > 0 || none !== null);
  const billed = weightOf(sheet.wholes["@billed"], habits);
  const closed = kept.recordedChange !== null || kept.putAway;
  return (
    <main className="blk" id="page">
      <header>
        <h1>{name}</h1>
        <button type="button" className="link" aria-expanded={aside === "about"} onClick={() => setAside(aside === "about" ? null : "about")}>{about.pieces === 1 ? "1 piece" : `${about.pieces} pieces`}{about.dealerId !== null && `, ${dealers.find(({ value }) => value === about.dealerId)?.label ?? ""}`} · change</button>
        <p className="quiet kept" role="status">{keptWords(kept)}</p>
      </header>
      {closed && <p className="told">{kept.recordedChange !== null ? <>This sheet is recorded. <Link href={`/tests/${encodeURIComponent(sheetId)}`}>See the test</Link></> : "This sheet was put away."}</p>}
      {askScale && <AskScale measures={habits.measures} onAnswer={(answer: ScaleReading) => { rememberScale(answer); keeper.add({ ...about, scale: answer }); }} />}
      {aside === "about" && <AboutSheet about={about} dealers={dealers} onChange={(next) => { if (next.scale !== null) rememberScale(next.scale); keeper.add(next); }} onClose={() => setAside(null)} />}

      <div className="now">
        <label htmlFor="weight">{aside === "tub" ? "The empty tub" : stop === null ? "All weighed" : labelOf(stop)}{stop !== null && aside !== "tub" && current.doing !== "first" && stop.readings.length > 0 && <small>{current.doing === "again" ? "again" : byPiece ? `piece ${stop.readings.length + 1}` : "and more of it"}</small>}</label>
        <span className="wt">
          <input id="weight" ref={field} value={text} inputMode="none" autoComplete="off" autoCorrect="off" spellCheck={false} aria-describedby="reads" onKeyDown={onKeyDown} onChange={(event) => setText(event.target.value)} />
          <span aria-hidden="true" onClick={() => field.current?.focus()}>{text === "" ? <span className="none">{done && aside !== "tub" ? "✓" : "0"}</span> : pieces(text).map((piece, index) => (piece.unit ? <small key={index}>{piece.text}</small> : <span key={index}>{piece.text}</span>))}<span className="caret" /></span>
        </span>
      </div>
      <div className="reads">
        <button type="button" className="link" aria-expanded={aside === "tub"} onClick={() => setAside(aside === "tub" ? null : "tub")}>{tub === null ? "no tub taken off" : `tub ${quantityText(tub, habits)} taken off`}</button>
        <span id="reads" className="quiet" aria-live="polite">{echo !== null ? `reads ${echo}` : usualHere === null ? "" : `usual for this piece: about ${quantityText(usualHere, habits)}`}</span>
      </div>
      {asked !== null && (
        <div className="asked" role="alert">
          <p>{asked.sentence}</p>
          {asked.choices.map((choice) => <button key={choice.text} type="button" className="btn" onClick={() => (aside === "tub" ? takeTub(choice.quantity) : weigh(choice.quantity))}>{choice.text}</button>)}
        </div>
      )}
      {kept.refused !== null && <div className="asked" role="alert"><p>{kept.refused}</p></div>}
      <div className="mid">
        {aside === "tub" && (
          <div className="aside" role="group" aria-label="Tub">
            <button type="button" className="btn plain" onClick={() => { setTub(null); setAside(null); }}>No tub, or the scale is tared</button>
            {tubs.map((one) => <button key={`${one.amount} ${one.unit}`} type="button" className="btn plain" onClick={() => takeTub(one)}>{quantityText(one, habits)}</button>)}
            <p className="quiet">Another tub: put it on the scale empty, key in what it shows, and press “Use this tub”.</p>
          </div>
        )}
        {aside === "part" && <AddPart taken={sheet.parts} onAdd={(partName: string, role: PartRole) => {
          const key = partKeyFor(partName, new Set(sheet.parts.map((part) => part.key)));
          keeper.add({ kind: "part", key, name: partName, role, place: Math.max(-1, ...sheet.parts.map(({ place }) => place)) + 1 });
          setChosen({ key, doing: "first" });
          setAside(null);
        }} onClose={() => setAside(null)} />}
        {aside === "note" && <NoteSheet note={sheet.note} onNote={(note: string) => { keeper.add({ kind: "note", text: note }); setAside(null); }} onClose={() => setAside(null)} />}

        <Balance habits={habits} whole={billed?.ok ? billed.value : null} parts={weighed?.parts ?? []} />
        {slips.length > 0 && (
          <div className="asked" role="group" aria-label="Does not add up">
            <p><strong>{weighed !== null && done ? "This does not add up." : "The parts come to more than the whole."}</strong> Likeliest first:</p>
            <ul>{slips.map((slip) => <li key={slip.sentence}>{slip.sentence}{slip.at.length === 1 && <> <button type="button" className="btn plain" onClick={() => applySlip(slip)}>{slip.at[0]?.wouldBe ? `It is ${quantityText(slip.at[0].wouldBe, habits)}` : "Take that row out"}</button></>}</li>)}</ul>
          </div>
        )}

        <div className="done">
          <WeighedRows habits={habits} current={current.key} rows={rows.map((weighing) => ({ weighing, name: labelOf(weighing) }))}
            onPick={(key, doing) => { setChosen({ key, doing }); setText(""); setAsked(null); }} />
          <div className="aside" role="group" aria-label="This part">
            {stop !== null && !WHOLES.some((whole) => whole === stop.key) && stop.readings.length === 0 && <button type="button" className="btn plain" onClick={() => { keeper.add({ kind: "none", key: stop.key }); setText(""); setAsked(null); setChosen(null); }}>None today</button>}
            {stop !== null && <button type="button" className="btn plain" aria-pressed={byPiece} onClick={() => { setByPiece(!byPiece); if (byPiece) setChosen(null); }}>{byPiece ? "✓ Piece by piece" : "Piece by piece"}</button>}
            <button type="button" className="btn plain" aria-expanded={aside === "part"} onClick={() => setAside(aside === "part" ? null : "part")}>Add a part</button>
            <button type="button" className="btn plain" aria-expanded={aside === "note"} onClick={() => setAside(aside === "note" ? null : "note")}>{sheet.note === "" ? "Note" : "Note ✓"}</button>
            <BlockCautions kind={about.test} />
            <Link className="btn plain" href={`/block/${encodeURIComponent(sheetId)}/photos`}>Photos</Link>
            <Link className="btn plain" href="/block">Leave it for now</Link>
          </div>
        </div>
      </div>
      <p className="visually-hidden" role="status">{said}</p>
      <Keypad units={[large, small]} mark={mark} go={aside === "tub" ? "Use this tub" : done ? "Result" : byPiece ? (text === "" && stop.readings.length > 0 ? "Next part" : "Next piece") : stops.filter(({ readings, none }) => readings.length === 0 && none === null).length <= 1 ? "Finish" : "Next part"} onKey={onKey} onUndo={() => { undo(); refocus(); }} onGo={() => { go(); refocus(); }} />
    </main>
  );
}

function wholeName(key: string, kind: keyof typeof KINDS): string {
  switch (key) {
    case "@billed": return KINDS[kind].billed;
    case "@trimmed": return "Into the heat";
    case "@cooked": return "Out of the heat";
    default: return key;
  }
}

function keptWords(kept: { readonly connection: "there" | "away" | "signed out"; readonly waiting: number; readonly keptHere: boolean }): string {
  if (kept.connection === "signed out") return "kept on this device; sign in again in another window, and it goes on by itself";
  if (kept.connection === "away") return `no connection: kept on this device${kept.waiting > 0 ? `, ${kept.waiting} to send` : ""}`;
  if (!kept.keptHere) return "kept in the kitchen’s book; this browser keeps nothing itself";
  return kept.waiting > 0 ? "kept on this device, on its way to the kitchen’s book" : "kept on this device and in the kitchen’s book";
}

/** What a weight that is still being keyed in would be read as; null while it is none. */
function echoOf(text: string, scale: ScaleReading | null, tub: Quantity | null, habits: Habits): string | null {
  if (text === "") return null;
  const answer = readAtScale(asRead(text, scale), scale, habits);
  if (!answer.ok) return null;
  if (tub === null) return answer.echo;
  const net = netWeight([{ gross: answer.value, tare: tub }], habits);
  return net.ok ? `${quantityText(net.value, habits)} without the tub` : answer.echo;
}

/** The row that a slip's path speaks of. */
function keyAt(path: string, parts: readonly string[]): string | undefined {
  const place = /^parts\.(\d+)\./.exec(path)?.[1];
  if (place !== undefined) return parts[Number(place)];
  return path === "billed" ? "@billed" : path === "cooking.trimmed" ? "@trimmed" : path === "cooking.cooked" ? "@cooked" : undefined;
}

/** Asks the browser to keep this page and what it is made of, so that it opens again without a connection (behind TLS only). */
function prepareForNoConnection(): void {
  if (!("serviceWorker" in navigator)) return;
  navigator.serviceWorker.register("/block-worker.js", { scope: "/block" }).then(async () => {
    const { active } = await navigator.serviceWorker.ready;
    const made = performance.getEntriesByType("resource").map(({ name }) => name).filter((url) => url.includes("/_next/static/"));
    active?.postMessage([window.location.pathname, ...new Set(made)]);
  }).catch(() => {
    // It is an extra: without it a reload needs the connection, and nothing typed is lost.
  });
}
