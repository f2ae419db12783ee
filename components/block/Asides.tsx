/** What is asked beside the weighing, each in its turn and with as little typing as can be. */
"use client";
import { useState } from "react";
import type { About, BlockPart, PartRole } from "@/lib/book";
import { SCALE_READINGS, type ScaleReading } from "@/lib/measure";
import type { Choice } from "@/components/form";
import { ROLE_WORDS } from "@/components/yield-test/kinds";

const READS: Readonly<Record<ScaleReading, string>> = { "lb and oz": "pounds and ounces, 8 lb 11 oz", "decimal lb": "decimal pounds, 8.69", oz: "ounces, 139", kg: "kilos, 3.94", g: "grams, 3940" };

/** Asked once on a device: how its scale reads. */
export function AskScale({ measures, onAnswer }: { readonly measures: "us" | "metric"; readonly onAnswer: (scale: ScaleReading) => void }) {
  const first = measures === "us" ? SCALE_READINGS : [...SCALE_READINGS].reverse();
  return (
    <div className="aside ask-scale" role="group" aria-label="How does this scale read?">
      <p><strong>How does this scale read?</strong> <span className="quiet">Asked once on this device.</span></p>
      {first.map((scale) => <button key={scale} type="button" className="btn plain" onClick={() => onAnswer(scale)}>{READS[scale]}</button>)}
    </div>
  );
}

/** The pieces, the dealer, how the scale reads: what was settled when the sheet was begun. */
export function AboutSheet({ about, dealers, onChange, onClose }: { readonly about: About; readonly dealers: readonly Choice[]; readonly onChange: (about: About) => void; readonly onClose: () => void }) {
  return (
    <div className="aside about" role="group" aria-label="What is being worked">
      <p className="count">
        <span id="pieces">Pieces worked together</span>
        <button type="button" className="btn plain" aria-label="One piece less" disabled={about.pieces <= 1} onClick={() => onChange({ ...about, pieces: about.pieces - 1 })}>−</button>
        <output aria-labelledby="pieces">{about.pieces}</output>
        <button type="button" className="btn plain" aria-label="One piece more" disabled={about.pieces >= 1000} onClick={() => onChange({ ...about, pieces: about.pieces + 1 })}>+</button>
      </p>
      {dealers.length > 0 && (
        <label>Dealer<select value={about.dealerId ?? ""} onChange={(event) => onChange({ ...about, dealerId: event.target.value === "" ? null : event.target.value })}>
          <option value="">Not known</option>
          {dealers.map((dealer) => <option key={dealer.value} value={dealer.value}>{dealer.label}</option>)}
        </select></label>
      )}
      <label>The scale reads<select value={about.scale ?? ""} onChange={(event) => { const scale = SCALE_READINGS.find((one) => one === event.target.value); if (scale !== undefined) onChange({ ...about, scale }); }}>
        {about.scale === null && <option value="">not said yet</option>}
        {SCALE_READINGS.map((scale) => <option key={scale} value={scale}>{READS[scale]}</option>)}
      </select></label>
      <label>Who cuts and weighs<input value={about.cutter} maxLength={120} onChange={(event) => onChange({ ...about, cutter: event.target.value })} /></label>
      <label>Day<input type="date" value={about.on} onChange={(event) => { if (event.target.value !== "") onChange({ ...about, on: event.target.value }); }} /></label>
      <button type="button" className="btn" onClick={onClose}>Back to the scale</button>
    </div>
  );
}

const USUAL_NAMES: readonly { readonly name: string; readonly role: PartRole }[] = [
  { name: "Lean trim", role: "by-product" }, { name: "Bones", role: "by-product" }, { name: "End pieces", role: "by-product" }, { name: "Fat", role: "discard" }, { name: "Silver skin", role: "discard" },
  { name: "Skin", role: "discard" }, { name: "Trim", role: "discard" }, { name: "Purge in the bag", role: "purge" },
];

/** A further part: one of the usual names with a tap, or any other. */
export function AddPart({ taken, onAdd, onClose }: { readonly taken: readonly BlockPart[]; readonly onAdd: (name: string, role: PartRole) => void; readonly onClose: () => void }) {
  const [name, setName] = useState("");
  const [role, setRole] = useState<PartRole>("discard");
  const names = new Set(taken.map((part) => part.name.toLowerCase()));
  return (
    <div className="aside" role="group" aria-label="Add a part">
      {USUAL_NAMES.filter((one) => !names.has(one.name.toLowerCase())).map((one) => <button key={one.name} type="button" className="btn plain" onClick={() => onAdd(one.name, one.role)}>{one.name}</button>)}
      <label>Or another name<input value={name} maxLength={120} onChange={(event) => setName(event.target.value)} /></label>
      <label>What it is<select value={role} onChange={(event) => setRole(event.target.value as PartRole)}>{(Object.keys(ROLE_WORDS) as PartRole[]).map((one) => <option key={one} value={one}>{ROLE_WORDS[one]}</option>)}</select></label>
      <button type="button" className="btn" disabled={name.trim() === ""} onClick={() => onAdd(name.trim(), role)}>Add it</button>
      <button type="button" className="btn plain" onClick={onClose}>No further part</button>
    </div>
  );
}

export function NoteSheet({ note, onNote, onClose }: { readonly note: string; readonly onNote: (note: string) => void; readonly onClose: () => void }) {
  const [text, setText] = useState(note);
  return (
    <div className="aside" role="group" aria-label="Note">
      <label>Note<textarea rows={3} maxLength={2000} value={text} onChange={(event) => setText(event.target.value)} /></label>
      <button type="button" className="btn" onClick={() => onNote(text)}>Keep the note</button>
      <button type="button" className="btn plain" onClick={onClose}>Leave it as it was</button>
    </div>
  );
}
