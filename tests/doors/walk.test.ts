/**
 * The walk through every door of the built app as every kind of person. First that the table of doors is whole; then
 * whoever may not is turned away and nothing changes; then that two kitchens in one installation are strangers to each
 * other, whatever ids are sent; then that whoever may gets past.
 */
import fs from "node:fs";
import os from "node:os";
import path from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Deed, DEEDS, may } from "@/lib/access";
import type { Page } from "../http/client";
import { type RunningApp, startApp } from "../running-app";
import { ACTIONS, type ActionDoor, type Ids, PATHS, REACHES, type Who } from "./doors";
import { type House, type Person, SECRETS, STRANGE, furnish, takeStock } from "./house";
import { Walker, type Way, builtActions, builtPaths, outcome, waysWith, writtenActions } from "./ways";

let folder: string;
let house: House;
let app: RunningApp;
let before: ReadonlyMap<string, string>;

beforeAll(async () => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), "trimledger-doors-"));
  house = await furnish(folder);
  before = await takeStock(folder);
  app = await startApp(folder);
}, 300_000);
afterAll(async () => {
  await app.stop();
  fs.rmSync(folder, { recursive: true, force: true });
});

/** What is in the folder now; the app is stopped for it and started again. */
async function stockNow(): Promise<ReadonlyMap<string, string>> {
  await app.stop();
  const stock = await takeStock(folder);
  app = await startApp(folder);
  return stock;
}

const isDeed = (who: Who): who is Deed => who in DEEDS;

function mayDo({ standing, signedIn, mayOpenKitchens }: Person, who: Who): boolean {
  if (isDeed(who)) return standing !== null && may(standing, who);
  switch (who) {
    case "in a kitchen": return standing !== null;
    case "signed in": return signedIn;
    case "owns a kitchen": return mayOpenKitchens;
    case "anybody": case "a link": return true;
    case "a key": case "the first": return false;
  }
}

/** What opening an address should come to, with ids of the kitchen that the person has open. */
function expected(person: Person, { at, who, program }: Way): string {
  if (program !== undefined) {
    if (mayDo(person, who)) return String(program.status ?? 200);
    return who === "a key" || (who === "owns a kitchen" ? !person.signedIn : person.standing === null) ? "401" : "403";
  }
  if (who === "the first") return "→ /";
  if (at === "/sign-in" && person.signedIn) return "→ /";
  if (who === "anybody" || who === "a link") return "200";
  if (!person.signedIn) return at === "/" ? "→ /sign-in" : `→ /sign-in?to=${encodeURIComponent(at)}`;
  if (mayDo(person, who)) return at === "/" ? (person.standing !== null && may(person.standing, "see money") ? "→ /dishes" : "→ /tests") : "200";
  return isDeed(who) && person.standing !== null ? "403" : "→ /kitchens";
}

const REFUSED = /"code":"(not-allowed|signed-out)"/;
const isRefused = (answer: Page): boolean => REFUSED.test(answer.body) || answer.status === 403 || outcome(answer).startsWith("→ /sign-in") || outcome(answer) === "→ /kitchens";

/** A few at a time. */
async function forEach<T>(all: readonly T[], work: (one: T, index: number) => Promise<void>): Promise<void> {
  const queue = [...all.entries()];
  await Promise.all(Array.from({ length: 4 }, async () => {
    for (let next = queue.shift(); next !== undefined; next = queue.shift()) await work(next[1], next[0]);
  }));
}

const idsOf = (person: Person): Ids => (person.kitchen === "second" ? house.second : house.first);
const walker = (person: Person, more?: string): Walker => new Walker(app.url, person, more);
function person(what: string): Person {
  const found = house.people.find((one) => one.what === what);
  if (found === undefined) throw new Error(`expected "${what}" among the people`);
  return found;
}

describe("the table of doors", () => {
  test("has every page and route handler of the built app, and none that is gone", () => {
    expect(Object.keys(PATHS).sort()).toEqual(builtPaths());
  });

  test("has every server action, and none that is gone", () => {
    expect(Object.keys(ACTIONS).sort()).toEqual([...builtActions().keys()].sort());
    // And the framework's own list misses none that is written.
    expect([...builtActions().keys()].sort()).toEqual(writtenActions("app"));
    // The first byte of an id tells which arguments are sent: a form, or a state and a form, as our server asks of a call.
    expect([...builtActions()].filter(([, { id }]) => !/^(40|60)/.test(id)).map(([action]) => action)).toEqual([]);
  });
});

describe("who may not", { timeout: 900_000 }, () => {
  test("opens no page, whole or in part, and reads nothing on the way", async () => {
    const wrong: string[] = [];
    for (const person of house.people) {
      const walk = walker(person);
      await forEach(waysWith(idsOf(person)).filter(({ who }) => !mayDo(person, who)), async (way) => {
        for (const as of ["page", "link", "prefetch"] as const) {
          const answer = await walk.take(way, as);
          const tells = [...SECRETS, "Strip steak", "Demi-glace"].filter((word) => answer.body.includes(word));
          // The router gets its pages as data; a page that it may not have comes as an error in it, whatever the status says.
          const ok = as === "page" ? outcome(answer) === expected(person, way) : outcome(answer) === expected(person, way) || /NEXT_(HTTP_ERROR_FALLBACK;403|REDIRECT)/.test(answer.body) || tells.length === 0;
          if (!ok || tells.length > 0) wrong.push(`${person.what}, ${way.at} as a ${as}: ${outcome(answer)} instead of ${expected(person, way)} ${tells.join(", ")}`);
        }
      });
    }
    expect(wrong).toEqual([]);
  });

  test("does nothing by any action", async () => {
    const wrong: string[] = [];
    for (const person of house.people) {
      const walk = walker(person);
      const turnedAway = Object.entries(ACTIONS).filter(([, door]) => !mayDo(person, door.who) || door.refusesWith !== undefined);
      await forEach(turnedAway, async ([action, door], index) => {
        const answer = await walk.record(action, idsOf(person), `no${index}`);
        const ok = mayDo(person, door.who) || door.refusesWith?.test(answer.body) ? door.refusesWith?.test(answer.body) === true : isRefused(answer);
        if (!ok) wrong.push(`${person.what}, ${action}: ${outcome(answer)} ${answer.body.slice(0, 300)}`);
      });
      await forEach(REACHES.filter(({ who }) => !mayDo(person, who)), async ({ what, action, fields }, index) => {
        const answer = await walk.send(action, { ...fields(idsOf(person), `reach${index}`), intent: "record" }, idsOf(person));
        if (!isRefused(answer)) wrong.push(`${person.what}, ${what}: ${outcome(answer)} ${answer.body.slice(0, 300)}`);
      });
    }
    expect(wrong).toEqual([]);
  });

  test("tries nothing out either, unless they see money: a reader may ask what a price would do", async () => {
    const wrong: string[] = [];
    for (const person of house.people) {
      const walk = walker(person);
      for (const action of Object.keys(ACTIONS).filter((one) => /(items|dishes|recipes|cuts|tests|block)\/actions/.test(one) && ACTIONS[one]?.plain !== true && !mayDo(person, (ACTIONS[one] as ActionDoor).who))) {
        const door = ACTIONS[action] as ActionDoor;
        const answer = await walk.send(action, door.fields(idsOf(person), "9"), idsOf(person));
        const refused = REFUSED.test(answer.body);
        const sees = person.standing !== null && may(person.standing, "see money");
        if (refused === sees || /"status":"recorded"/.test(answer.body)) wrong.push(`${person.what}, ${action}: ${answer.body.slice(0, 300)}`);
      }
    }
    expect(wrong).toEqual([]);
  });

  test("has changed nothing at all", async () => {
    expect(await stockNow()).toEqual(before);
  });
});

describe("somebody who sees no money", { timeout: 600_000 }, () => {
  test("is told no price and no cost on any page that is theirs, nor in what the page is made of", async () => {
    const cook = person("cook");
    const walk = walker(cook);
    const ways = [...waysWith(house.first).filter(({ who, program }) => mayDo(cook, who) && who !== "anybody" && program === undefined).map(({ at }) => at), ...["butcher", "cooking", "trim", "drained", "hydration"].map((kind) => `/tests/new?kind=${kind}&item=${house.first.item}`),
      `/tests/new?kind=cooking&cut=${house.first.cut}`];
    const wrong: string[] = [];
    await forEach(ways, async (at) => {
      for (const as of ["page", "link"] as const) {
        const { body, text } = await walk.open(at, as);
        const told = [...SECRETS.filter((secret) => body.includes(secret)), ...(/\$\d+\.\d/.exec(body) ?? []), ...(as === "page" ? /[^\n]*\$[^\n]*/.exec(text) ?? [] : [])];
        if (told.length > 0) wrong.push(`${at} as a ${as}: ${told.join(", ")}`);
      }
    });
    expect(wrong).toEqual([]);
  });

  test("is told none by an action: recorded, tried, refused, or stale", async () => {
    const walk = walker(person("cook"));
    const action = "app/(kitchen)/tests/actions.ts recordTest";
    const fields = (ACTIONS[action] as ActionDoor).fields(house.first, "told");
    const withWorth = { ...fields, "parts.1.key": "lean-trim", "parts.1.name": "Lean trim", "parts.1.role": "by-product", "parts.1.worth": "0.01" };
    const heavy = { ...withWorth, "parts.1.weight": "400 lb" };
    const stale = { ...withWorth, id: house.first.test, basedOn: JSON.stringify({ [`test:${house.first.test}`]: 1 }), intent: "record" };
    const told: string[] = [];
    for (const sent of [withWorth, heavy, { ...withWorth, intent: "record" }, stale, { ...stale, id: "test-told" }, { ...withWorth, id: house.first.test, "parts.1.weight": "0.01 oz", "parts.0.weight": "0.01 oz" }]) {
      const { body } = await walk.send(action, sent, house.first);
      expect(REFUSED.test(body), body.slice(0, 500)).toBe(false);
      if (SECRETS.some((secret) => body.includes(secret)) || /\$\d+\.\d/.test(body)) told.push(body);
    }
    expect(told).toEqual([]);
    const { body } = await walk.send(action, stale, house.first);
    expect(body).toContain('"status":"stale"');
    expect(body).toContain("Striploin, trimmed");
  });
});

describe("two kitchens in one installation", { timeout: 900_000 }, () => {
  /** Somebody of each kitchen, with the ids of the other. */
  const across = (): readonly (readonly [Person, Ids])[] => [
    [person("owner"), house.second], [person("reader"), house.second], [person("cook"), house.second], [person("owner elsewhere"), house.first], [person(`${STRANGE} cook`), house.first],
  ];

  test("a page with an id of the other kitchen is not there", async () => {
    const wrong: string[] = [];
    for (const [who, ids] of across()) {
      const walk = walker(who);
      await forEach(waysWith(ids).filter(({ ofKitchen, at, who: door }) => ofKitchen && door !== "a key" && !at.startsWith("/record/1") && !at.includes("?on=")), async (way) => {
        for (const as of ["page", "link"] as const) {
          const answer = await walk.take(way, as);
          const awaited = mayDo(who, way.who) || (way.at.endsWith("/edit") && mayDo(who, "record a test") && way.at.startsWith("/tests/")) ? "404" : "403";
          if (as === "page" && outcome(answer) !== awaited) wrong.push(`${who.what}, ${way.at}: ${outcome(answer)} instead of ${awaited}`);
          if (who.kitchen === "first" && answer.body.includes(STRANGE)) wrong.push(`${who.what}, ${way.at} as a ${as} names something of the other kitchen`);
        }
      });
    }
    expect(wrong).toEqual([]);
  });

  test("no page that asks by an address names anything of the other kitchen, and no cookie opens it", async () => {
    const { second } = house;
    const asking = ["/dishes", "/items", "/recipes", "/cuts", "/tests", "/record", "/people", "/kitchens", "/account", `/tests/new?item=${second.item}`, `/tests/new?kind=cooking&cut=${second.cut}&follows=${second.test}`,
      `/items/${house.first.item}/edit?quote=${second.quote}`, `/figure/dish/${second.dish}?on=2026-03-02`];
    for (const more of ["", `kitchen=${second.kitchen}`]) {
      const walk = walker(person("owner"), more);
      await forEach(asking, async (at) => {
        for (const as of ["page", "link"] as const) expect((await walk.open(at, as)).body, `${at} with ${more || "no cookie of a kitchen"}`).not.toContain(STRANGE);
      });
    }
    const takenOut = walker(person("taken out"), `kitchen=${house.first.kitchen}`);
    expect(outcome(await takenOut.open("/dishes"))).toBe("→ /kitchens");
    const strange = await walker(person("owner elsewhere"), `kitchen=${house.first.kitchen}`).open("/dishes");
    expect(strange.text).toContain(`${STRANGE} house`);
    const went = await walker(person("owner")).send("app/kitchens/actions.ts goTo", { kitchen: second.kitchen }, house.first);
    expect(went.headers.getSetCookie().filter((cookie) => cookie.startsWith("kitchen="))).toEqual([]);
  });

  test("an action with an id of the other kitchen is refused, tells nothing of it and changes nothing", async () => {
    const standing = await stockNow();
    const wrong: string[] = [];
    for (const [who, theirs] of across()) {
      const walk = walker(who);
      const own = idsOf(who);
      for (const [action, door] of Object.entries(ACTIONS)) {
        const sent = door.fields(theirs, "across");
        const mine = door.fields(own, "across");
        // What names nothing by an id is walked through elsewhere; everybody may end sessions and choose a kitchen, their own.
        if (JSON.stringify(sent) === JSON.stringify(mine)) continue;
        const goesOn = door.turnsSession === true || door.plain === true;
        // Each foreign id by itself as well, among ids of one's own: a form that is half right.
        const mixed = Object.entries(sent).filter(([name, value]) => mine[name] !== undefined && mine[name] !== value && door.free?.includes(name) !== true).map(([name, value]) => ({ ...mine, [name]: value }));
        for (const fields of [sent, ...mixed]) {
          for (const intent of ["try", "record", "over"]) {
            const answer = await walk.send(action, { ...fields, intent }, own);
            if (/"status":"(recorded|tried)"/.test(answer.body) || (/"told":"/.test(answer.body) && !goesOn)) wrong.push(`${who.what}, ${action} ${JSON.stringify(fields)}: ${answer.body.slice(0, 300)}`);
            if (who.kitchen === "first" && answer.body.includes(STRANGE)) wrong.push(`${who.what}, ${action} names something of the other kitchen: ${answer.body.slice(0, 300)}`);
          }
        }
      }
    }
    expect(wrong).toEqual([]);
    for (const what of ["chef", `${STRANGE} cook`]) expect(outcome(await walker(person(what)).open("/tests")), `the session of the ${what}`).toBe("200");
    expect(await stockNow()).toEqual(standing);
  });
});

describe("who may", { timeout: 900_000 }, () => {
  test("opens every page that is theirs", async () => {
    const wrong: string[] = [];
    for (const person of house.people) {
      const walk = walker(person);
      await forEach(waysWith(idsOf(person)).filter(({ who }) => mayDo(person, who)), async (way) => {
        const answer = await walk.take(way);
        if (outcome(answer) !== expected(person, way)) wrong.push(`${person.what}, ${way.at}: ${outcome(answer)} instead of ${expected(person, way)}`);
      });
    }
    expect(wrong).toEqual([]);
  });

  test("opens the page behind a good link, and behind no other", async () => {
    const walk = walker(person("nobody"));
    const { join, newPassword } = house.links;
    const kitchen = (await walker(person("owner")).open("/kitchens")).text;
    for (const [at, opens] of [[`/join/${join}`, true], [`/new-password/${newPassword}`, true], [`/join/${newPassword}`, false], [`/new-password/${join}`, false], [`/join/${join.slice(0, -1)}`, false]] as const) {
      const { text, status } = await walk.open(at);
      expect(status, at).toBe(200);
      expect(text.includes("This link is used up"), at).toBe(!opens);
    }
    expect(kitchen).not.toContain(STRANGE);
  });

  test("gets past the door of every action that is theirs", async () => {
    const wrong: string[] = [];
    // What takes something away, or people, comes after what needs it.
    const order = Object.entries(ACTIONS).sort(([a], [b]) => Number(/withdraw|remove|putAway/.test(a)) - Number(/withdraw|remove|putAway/.test(b)));
    const recorded = new Set<string>();
    const toldInstead = new Map<string, string>();
    for (const [action, door] of order) {
      if (door.turnsSession) continue;
      for (const [number, person] of house.people.entries()) {
        if (!mayDo(person, door.who)) continue;
        const answer = await walker(person).record(action, idsOf(person), String(10 + number));
        if (/"status":"(?:recorded|filled)"|"told":"/.test(answer.body) || outcome(answer).startsWith("→ ") || (door.plain === true && answer.status === 200)) recorded.add(action);
        else toldInstead.set(action, answer.body.slice(0, 600));
        if (door.refusesWith !== undefined) continue;
        if ((isRefused(answer) && outcome(answer) !== "→ /kitchens") || answer.status >= 400) wrong.push(`${person.what}, ${action}: ${outcome(answer)} ${answer.body.slice(0, 400)}`);
      }
    }
    expect(wrong).toEqual([]);
    // These are refused by the book, not by the door: what they name is in use, or there is nothing to change.
    const byTheBook = ["cuts/[cut]/borrowed-actions.ts borrowYield", "cuts/[cut]/borrowed-actions.ts giveBack", "cuts/actions.ts takeBack", "cuts/actions.ts withdrawCut", "cuts/actions.ts withdrawSpec", "dealers/actions.ts withdrawDealer", "items/actions.ts withdrawItem",
      "recipes/actions.ts withdrawRecipe", "record/actions.ts undoChange", "tests/actions.ts withdrawTest"].map((one) => `app/(kitchen)/${one}`);
    const never = order.filter(([action, door]) => !recorded.has(action) && door.refusesWith === undefined && door.turnsSession === undefined).map(([action]) => action);
    expect(never.filter((action) => !byTheBook.includes(action)).map((action) => `${action}: ${toldInstead.get(action) ?? ""}`)).toEqual([]);
  });
});

describe("what is taken away", { timeout: 300_000 }, () => {
  const deed = "app/(kitchen)/dishes/actions.ts saveDish";

  test("is gone at the next request: a role, then the kitchen, then the session", async () => {
    const owner = walker(person("owner"));
    const { token } = /"link":"[^"]*\/join\/(?<token>[\w-]+)"/.exec((await owner.send("app/(kitchen)/people/actions.ts invite", { name: "Second chef", role: "chef" }, house.first)).body)?.groups ?? {};
    const nobody = walker(person("nobody"));
    const joined = await nobody.send("app/join/[token]/actions.ts join", { token: token ?? "", name: "Second chef", username: "second.chef", password: "a case of carrots" }, house.first);
    const cookie = joined.headers.getSetCookie().map((one) => one.split(";")[0] ?? "").join("; ");
    const chef = new Walker(app.url, { ...person("chef"), cookie });
    expect(outcome(await chef.open("/dishes/new"))).toBe("200");
    expect((await chef.record(deed, house.first, "first")).body).toContain('"status":"recorded"');
    // The link is used up.
    expect((await nobody.send("app/join/[token]/actions.ts join", { token: token ?? "", name: "Third", username: "third", password: "a case of carrots" }, house.first)).body).toContain("link-over");

    const people = (await owner.open("/people")).forms.flatMap(({ controls }) => controls.filter(({ name }) => name === "person").map(({ sends }) => sends[0] ?? ""));
    const newest = people.at(-1) ?? "";
    expect((await owner.send("app/(kitchen)/people/actions.ts setStanding", { person: newest, role: "reader" }, house.first)).body).toContain("Changed, from now on.");
    expect(outcome(await chef.open("/dishes/new"))).toBe("403");
    expect((await chef.record(deed, house.first, "second")).body).toContain("not-allowed");

    expect((await owner.send("app/(kitchen)/people/actions.ts removePerson", { person: newest }, house.first)).body).toContain("do not belong to this kitchen any more");
    expect(outcome(await chef.open("/dishes"))).toBe("→ /kitchens");
    expect((await chef.record(deed, house.first, "third")).body).toContain("signed-out");

    expect(outcome(await chef.open("/kitchens"))).toBe("200");
    await chef.send("app/kitchens/actions.ts signOut", {}, house.first);
    expect(outcome(await chef.open("/kitchens"))).toBe("→ /sign-in?to=%2Fkitchens");
  });
});
