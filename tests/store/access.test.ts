/** The doors: the first account, signing in and being slowed down, coming in by a link, what a role may do. */
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type Access, type Caller, type Cookie, type NewPerson, type Visitor, makeAccess, wayBackFor } from "@/lib/access";
import { passwordProblems } from "@/lib/access/password";
import { type Clock, type Store, makeStore } from "@/lib/store";
import { type Database, openDatabase } from "@/lib/store/database";
import { type TestDatabase, migratedDatabase } from "../database/test-database";
import { kitchen } from "./test-kitchen";

let place: TestDatabase;
let database: Database;
let store: Store;
let access: Access;
let now: number;
const clock: Clock = { now: () => now };

beforeAll(async () => {
  now = Date.parse("2026-11-25T12:00:00Z");
  place = await migratedDatabase();
  database = await openDatabase(place.choice);
  store = makeStore(database);
  access = await makeAccess(database, store, { clock });
});
afterAll(async () => {
  await database.close();
  await place.remove();
});

const OWNER: NewPerson = { name: "Ada Owner", username: "Ada", password: "three striploins a week" };
const from = (address = "10.0.0.1", cookies: readonly Cookie[] = []): Caller => ({
  address, headers: new Headers({ cookie: cookies.map(({ name, value }) => `${name}=${encodeURIComponent(value)}`).join("; "), "x-trimledger-address": address, "user-agent": "A tablet" }),
});
async function comeIn(as: { readonly username: string; readonly password: string }, address?: string): Promise<readonly Cookie[]> {
  const signed = await access.signIn(as, from(address));
  if (!signed.ok) throw new Error(signed.problems[0]?.sentence);
  return signed.value;
}
async function visitorOf(cookies: readonly Cookie[]): Promise<Visitor> {
  const visitor = await access.visitor(from("10.0.0.1", cookies).headers);
  if (visitor === null) throw new Error("expected somebody signed in");
  return visitor;
}
const codes = (checked: { readonly ok: boolean; readonly problems?: readonly { readonly code: string }[] }): readonly string[] => checked.problems?.map(({ code }) => code) ?? [];

let owner: Visitor;
let house: string;

describe("the first account", () => {
  test("is made once: of ten who try at once, one is first", async () => {
    expect(await access.isNew()).toBe(true);
    const tries = await Promise.all(Array.from({ length: 10 }, (_, n) => access.makeFirst(n === 0 ? OWNER : { ...OWNER, username: `other${n}` }, from())));
    expect(tries.filter((one) => one.ok)).toHaveLength(1);
    expect(await database.prisma.person.count()).toBe(1);
    expect(await access.isNew()).toBe(false);
    expect(codes(await access.makeFirst({ ...OWNER, username: "late" }, from()))).toEqual(["not-the-first"]);
    const cookies = tries.find((one) => one.ok)?.value ?? [];
    owner = await visitorOf(cookies);
    expect(cookies.map(({ options }) => options)).toEqual([expect.objectContaining({ httpOnly: true, sameSite: "lax", path: "/", secure: false })]);
    // The winner may be any of the ten: from here on it is known as itself.
    await database.prisma.person.update({ where: { id: owner.personId }, data: { username: "ada", name: OWNER.name } });
    owner = await visitorOf(cookies);
    const opened = await access.openKitchen(owner, kitchen);
    if (!opened.ok) throw new Error("expected a kitchen");
    house = opened.value;
    expect(await access.membership(owner.personId, house)).toEqual({ role: "owner", seesMoney: true });
  });

  test("cookies travel over TLS only where the app is reached by it", async () => {
    const behindTls = await makeAccess(database, store, { clock, secure: true });
    const signed = await behindTls.signIn(OWNER, from("10.0.0.9"));
    if (!signed.ok) throw new Error(signed.problems[0]?.sentence);
    expect(signed.value.every(({ name, options }) => options.secure && name.startsWith("__Secure-"))).toBe(true);
  });
});

describe("a password", () => {
  test.each([
    ["short", "too-short"], ["password123", "too-common"], ["aaaaaaaaaaaa", "too-common"], ["Qwerty123456", "too-common"], ["owner2026!", "own-name"],
  ])("%s is refused: %s", async (password, code) => {
    const link = await access.invite(owner, house, { name: "Nobody", role: "reader", seesMoney: true });
    if (!link.ok) throw new Error("expected a link");
    expect(codes(await access.join(link.value.token, { name: "Bo Owner", username: "bo", password }, from()))).toEqual([code]);
  });

  test("of two hundred characters is enough", () => {
    expect(passwordProblems("salmon and ".repeat(19), OWNER).map(({ code }) => code)).toEqual(["too-long"]);
    expect(passwordProblems("salmon and ".repeat(18), OWNER)).toEqual([]);
  });

  test("is kept as scrypt with its cost beside it, salted anew each time", async () => {
    const row = await database.prisma.credential.findFirstOrThrow({ where: { userId: owner.personId } });
    expect(row.password).toMatch(/^scrypt\$65536\$8\$2\$[\w-]{22}\$[\w-]{86}$/);
    expect(JSON.stringify(row)).not.toContain(OWNER.password);
  });
});

describe("signing in", () => {
  beforeEach(() => { now += 60 * 60_000; });

  test("however the name is typed; the session is gone at once when it is ended", async () => {
    const here = await comeIn({ ...OWNER, username: "  ADA " });
    const there = await comeIn(OWNER, "10.0.0.2");
    const visitor = await visitorOf(here);
    expect(visitor).toMatchObject({ name: "Ada Owner", username: "ada" });
    expect((await access.sessions(visitor)).filter((one) => one.here)).toEqual([expect.objectContaining({ address: "10.0.0.1", device: "A tablet" })]);
    await access.endOtherSessions(visitor);
    expect(await access.visitor(from("10.0.0.2", there).headers)).toBeNull();
    const gone = await access.signOut(from("10.0.0.1", here));
    expect(gone.some(({ options }) => options.maxAge === 0)).toBe(true);
    expect(await access.visitor(from("10.0.0.1", here).headers)).toBeNull();
  });

  test("nobody can end somebody else's session by its id", async () => {
    const cookies = await comeIn(OWNER);
    const mine = await visitorOf(cookies);
    await access.endSession({ ...mine, personId: "person-somebody-else" }, mine.sessionId);
    expect(await access.visitor(from("10.0.0.1", cookies).headers)).not.toBeNull();
  });

  test("a forged or altered cookie is nobody", async () => {
    const [cookie] = await comeIn(OWNER);
    if (!cookie) throw new Error("expected a cookie");
    for (const value of ["", "x", cookie.value.slice(0, -3), `${cookie.value.split(".")[0]}.AAAA`, decodeURIComponent(cookie.value).replace(/^./, "z")]) {
      expect(await access.visitor(from("10.0.0.1", [{ ...cookie, value }]).headers), value).toBeNull();
    }
  });

  test("a wrong password and a name nobody has get the same answer", async () => {
    const wrong = await access.signIn({ ...OWNER, password: "not the password" }, from("10.1.0.1"));
    const nobody = await access.signIn({ username: "nobody.here", password: "not the password" }, from("10.1.0.2"));
    expect(wrong).toEqual(nobody);
    expect(codes(wrong)).toEqual(["wrong"]);
  });

  test("an account is slowed down after five wrong tries, also where there is no such account, and let in again later", async () => {
    for (const username of ["ada", "nobody.there"]) {
      const said: string[] = [];
      for (let n = 0; n < 8; n += 1) said.push(...codes(await access.signIn({ username, password: `guess number ${n}` }, from(`10.2.${n}.${username.length}`))));
      expect(said, username).toEqual(["wrong", "wrong", "wrong", "wrong", "wrong", "too-many", "too-many", "too-many"]);
    }
    expect(codes(await access.signIn(OWNER, from("10.2.9.9")))).toEqual(["too-many"]);
    now += 16 * 60_000;
    expect((await access.signIn(OWNER, from("10.2.9.9"))).ok).toBe(true);
    expect((await access.signIn({ ...OWNER, password: "a slip of the finger" }, from("10.2.9.9"))).ok).toBe(false);
    expect((await access.signIn(OWNER, from("10.2.9.9"))).ok).toBe(true);
  });

  test("many tries at once are all counted", async () => {
    const tries = await Promise.all(Array.from({ length: 12 }, (_, n) => access.signIn({ username: "ada", password: `at once ${n}` }, from(`10.3.0.${n}`))));
    expect(tries.filter((one) => codes(one)[0] === "wrong").length).toBeLessThanOrEqual(5);
  });

  test("an address that tries many names is slowed down", async () => {
    let last: readonly string[] = [];
    for (let n = 0; n < 41; n += 1) last = codes(await access.signIn({ username: `name${n}`, password: "one for all of them" }, from("10.4.0.1")));
    expect(last).toEqual(["too-many"]);
    expect((await access.signIn(OWNER, from("10.4.0.2"))).ok).toBe(true);
  }, 120_000);
});

describe("a link", () => {
  test("lets one person in, once, as what it was made for", async () => {
    const link = await access.invite(owner, house, { name: "Cal", role: "cook", seesMoney: false });
    if (!link.ok) throw new Error("expected a link");
    const { token } = link.value;
    expect(await access.invitationBehind(token)).toMatchObject({ name: "Cal", role: "cook", seesMoney: false, createdBy: "Ada Owner" });
    expect(JSON.stringify(await database.prisma.invitation.findMany())).not.toContain(token);
    expect(codes(await access.join(token, { name: "Cal", username: "ADA", password: "salmon on a friday" }, from()))).toEqual(["taken"]);
    const twice = await Promise.all(["cal", "cal2"].map((username) => access.join(token, { name: "Cal Cook", username, password: "salmon on a friday" }, from())));
    expect(twice.filter((one) => one.ok)).toHaveLength(1);
    expect(codes(twice.find((one) => !one.ok) ?? { ok: true })).toEqual(["link-over"]);
    expect(await access.invitationBehind(token)).toBeNull();
    const cook = (await access.members(house)).find(({ role }) => role === "cook");
    expect(cook).toMatchObject({ name: "Cal Cook", seesMoney: false });
  });

  test("is over when it is withdrawn, or after a week; a made-up one opens nothing", async () => {
    const one = await access.invite(owner, house, { name: "Dee", role: "chef", seesMoney: true });
    now += 1000;
    const two = await access.invite(owner, house, { name: "Eve", role: "chef", seesMoney: true });
    if (!one.ok || !two.ok) throw new Error("expected links");
    const [eve, dee] = await access.invitations(house);
    expect([eve?.name, dee?.name]).toEqual(["Eve", "Dee"]);
    expect((await access.withdraw(owner, house, dee?.id ?? "")).ok).toBe(true);
    expect(await access.invitationBehind(one.value.token)).toBeNull();
    now += 8 * 24 * 3_600_000;
    expect(await access.invitationBehind(two.value.token)).toBeNull();
    expect(codes(await access.join(two.value.token, { name: "Eve", username: "eve", password: "a case of carrots" }, from()))).toEqual(["link-over"]);
    expect(await access.invitationBehind("made up")).toBeNull();
  });

  test("to a new password ends every session of that person and is not a way into a kitchen", async () => {
    const member = (await access.members(house)).find(({ role }) => role === "cook");
    if (!member) throw new Error("expected the cook");
    const before = await comeIn({ username: member.username, password: "salmon on a friday" });
    const link = await access.linkToNewPassword(owner, house, member.personId);
    if (!link.ok) throw new Error("expected a link");
    expect(codes(await access.join(link.value.token, { name: "X", username: "xx", password: "a case of carrots" }, from()))).toEqual(["link-over"]);
    expect((await access.setNewPassword(link.value.token, "trout on a saturday", from())).ok).toBe(true);
    expect(await access.visitor(from("10.0.0.1", before).headers)).toBeNull();
    expect((await access.signIn({ username: member.username, password: "salmon on a friday" }, from("10.5.0.1"))).ok).toBe(false);
    await comeIn({ username: member.username, password: "trout on a saturday" });
    expect(codes(await access.setNewPassword(link.value.token, "bream on a sunday", from()))).toEqual(["link-over"]);
  });
});

describe("people of a kitchen", () => {
  test("are recorded for good, and the last owner stays", async () => {
    const cook = (await access.members(house)).find(({ role }) => role === "cook");
    if (!cook) throw new Error("expected the cook");
    expect(codes(await access.setStanding(owner, house, owner.personId, { role: "chef", seesMoney: true }))).toEqual(["last-owner"]);
    expect(codes(await access.remove(owner, house, owner.personId))).toEqual(["last-owner"]);
    expect((await access.setStanding(owner, house, cook.personId, { role: "sous chef", seesMoney: false })).ok).toBe(true);
    expect(await access.membership(cook.personId, house)).toEqual({ role: "sous chef", seesMoney: true });
    expect((await access.remove(owner, house, cook.personId)).ok).toBe(true);
    expect(await access.membership(cook.personId, house)).toBeNull();
    const record = await access.peopleRecord(house, 100);
    expect(record.slice(0, 2)).toEqual([
      expect.objectContaining({ what: "removed", whom: "Cal Cook", before: "sous chef", after: null, by: "Ada Owner" }),
      expect.objectContaining({ what: "changed what they may do", before: "cook, sees no money", after: "sous chef" }),
    ]);
    expect(record.map(({ no }) => no)).toEqual(Array.from(record, (_, n) => record.length - n));
    await expect(database.prisma.$executeRaw`DELETE FROM people_record`).rejects.toThrow(/recorded for good/);
  });

  test("of one kitchen are nobody in another", async () => {
    const other = await access.openKitchen(owner, { ...kitchen, name: "The other house" });
    if (!other.ok) throw new Error("expected a kitchen");
    const link = await access.invite(owner, house, { name: "Fay", role: "owner", seesMoney: true });
    if (!link.ok) throw new Error("expected a link");
    const cookies = await access.join(link.value.token, { name: "Fay", username: "fay", password: "a flat of strawberries" }, from());
    if (!cookies.ok) throw new Error("expected to come in");
    const fay = await visitorOf(cookies.value);
    expect((await access.kitchensOf(fay.personId)).map(({ kitchenId }) => kitchenId)).toEqual([house]);
    expect(await access.membership(fay.personId, other.value)).toBeNull();
    expect(codes(await access.setStanding(owner, other.value, fay.personId, { role: "owner", seesMoney: true }))).toEqual(["not-here"]);
    const invitation = await access.invite(owner, house, { name: "Gus", role: "reader", seesMoney: true });
    expect(invitation.ok).toBe(true);
    const [gus] = await access.invitations(house);
    expect(codes(await access.withdraw(owner, other.value, gus?.id ?? ""))).toEqual(["no-such-link"]);
  });

  test("of two kitchens keep their password from an owner of one: it would open the other", async () => {
    const come = async (name: string, to: string, by: Visitor): Promise<Visitor> => {
      const link = await access.invite(by, to, { name, role: "owner", seesMoney: true });
      if (!link.ok) throw new Error("expected a link");
      const cookies = await access.join(link.value.token, { name, username: name.toLowerCase(), password: "a flat of strawberries" }, from("10.7.0.1"));
      if (!cookies.ok) throw new Error("expected to come in");
      return visitorOf(cookies.value);
    };
    const hal = await come("Hal", house, owner);
    const iva = await come("Iva", house, owner);
    // Made while Hal belonged to this kitchen alone, the link is over once he belongs to another.
    const early = await access.linkToNewPassword(iva, house, hal.personId);
    if (!early.ok) throw new Error("expected a link");
    const own = await access.openKitchen(hal, { ...kitchen, name: "Hal’s own" });
    if (!own.ok) throw new Error("expected a kitchen");
    expect(codes(await access.setNewPassword(early.value.token, "bream on a sunday", from("10.7.0.2")))).toEqual(["link-over"]);
    expect(codes(await access.linkToNewPassword(iva, house, hal.personId))).toEqual(["of-another-kitchen"]);
    expect(await access.invitations(house).then((links) => links.filter(({ purpose }) => purpose === "new password"))).toEqual([]);
    // Somebody who owns both may, and so may Hal himself.
    expect((await access.linkToNewPassword(hal, house, hal.personId)).ok).toBe(true);
    const joined = await access.invite(hal, own.value, { name: "Iva", role: "owner", seesMoney: true });
    if (!joined.ok) throw new Error("expected a link");
    expect((await access.joinAs(joined.value.token, iva)).ok).toBe(true);
    const late = await access.linkToNewPassword(iva, house, hal.personId);
    if (!late.ok) throw new Error("expected a link");
    // Taken out, nobody's link opens the account any more.
    expect((await access.remove(iva, house, hal.personId)).ok).toBe(true);
    expect(codes(await access.setNewPassword(late.value.token, "bream on a sunday", from("10.7.0.3")))).toEqual(["link-over"]);
  });
});

test("an owner whom nobody can give a link gets one from whoever keeps the machine, once, and the record tells of it", async () => {
  expect(codes(await wayBackFor(database, clock, "nobody"))).toEqual(["no-such-person"]);
  const link = await wayBackFor(database, clock, " ADA ");
  if (!link.ok) throw new Error("expected a link");
  expect((await access.peopleRecord(house, 1))[0]).toMatchObject({ by: "whoever keeps the machine", what: "gave a link to a new password", whom: "Ada Owner" });
  expect((await access.setNewPassword(link.value.token, "four striploins a week", from("10.8.0.1"))).ok).toBe(true);
  expect(codes(await access.setNewPassword(link.value.token, "five striploins a week", from("10.8.0.1")))).toEqual(["link-over"]);
  await comeIn({ ...OWNER, password: "four striploins a week" }, "10.8.0.2");
});
