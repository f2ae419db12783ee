/**
 * The door: one for a process, over the app's own database. What it does about people it does in transactions, with
 * the record beside; passwords are hashed before a transaction begins, since hashing takes its time.
 */
import { type Checked, bad, good } from "@/lib/measure";
import { type Clock, type Database, type Store, appDatabase, openStore, systemClock } from "@/lib/store";
import type { Access, Caller, Cookie, SignIn, Visitor } from "./contract";
import { becomeFounder, readInstallation } from "./installation";
import { LINK_OVER, linkBehind, makeLink, openLinks, useLink, withdrawLink } from "./links";
import { NOT_HERE, addMember, belongsBeyond, findMember, kitchensOf, lockPerson, membersOf, removeMember, setStanding, standingIn } from "./members";
import { NAME, NAME_TAKEN, checkPerson, insertPerson, signInName } from "./new-person";
import { hashPassword, passwordProblems, verifyPassword } from "./password";
import { lockPeople, readPeopleRecord, writePeopleEntry } from "./people-record";
import { endProgramKey, makeProgramKey, programBehind, programKeys } from "./programs";
import { type SignInLibrary, cookiesOf, signInLibrary } from "./sign-in-library";
import { type Throttled, countAttempt, forgiveAttempt, waitWords } from "./throttle";

const home = globalThis as { trimledgerAccess?: Promise<Access> };

/** The process's own. Cookies are for TLS only where PUBLIC_URL says that the app is reached by https. */
export function openAccess(): Promise<Access> {
  home.trimledgerAccess ??= Promise.all([appDatabase(), openStore()]).then(
    ([database, store]) => makeAccess(database, store, { secure: process.env.PUBLIC_URL?.trim().startsWith("https:") ?? false }),
  ).catch((error: unknown) => {
    delete home.trimledgerAccess;
    throw error;
  });
  return home.trimledgerAccess;
}

/** One over any database: for tests and commands. */
export async function makeAccess(database: Database, store: Store, { secure = false, clock = systemClock }: { readonly secure?: boolean; readonly clock?: Clock } = {}): Promise<Access> {
  const { secret } = await readInstallation(database, clock);
  const library = signInLibrary(database, { secret, secure });
  const now = (): Date => new Date(clock.now());

  const access: Access = {
    isNew: async () => (await readInstallation(database, clock)).founderId === null,
    makeFirst: async (person, caller) => {
      if (!await access.isNew()) return TOO_LATE;
      const checked = await checkPerson(person);
      if (!checked.ok) return checked;
      const made = await database.transaction(async (tx) => {
        const id = await insertPerson(tx, checked.value, now());
        // Somebody else was first by a blink: throwing takes this account back.
        if (id === null || !await becomeFounder(tx, id)) throw new TooLate();
        return id;
      }).catch((error: unknown) => {
        if (error instanceof TooLate) return null;
        throw error;
      });
      return made === null ? TOO_LATE : good(await signInAs(library, person, caller));
    },
    signIn: (as, caller) => signIn(database, clock, library, as, caller),
    signOut: async (caller) => {
      const { headers } = await library.api.signOut({ headers: caller.headers, returnHeaders: true });
      return cookiesOf(headers);
    },
    visitor: async (headers) => {
      const found = await library.api.getSession({ headers, query: { disableCookieCache: true, disableRefresh: true } });
      return found === null ? null : { personId: found.user.id, name: found.user.name, username: found.user.username ?? "", sessionId: found.session.id };
    },

    kitchensOf: (personId) => kitchensOf(database, personId),
    membership: (personId, kitchenId) => standingIn(database, personId, kitchenId),
    mayOpenKitchens: async (personId) => {
      const { founderId } = await readInstallation(database, clock);
      return founderId === personId || (await kitchensOf(database, personId)).some(({ role }) => role === "owner");
    },
    openKitchen: async (visitor, kitchen, entries = [], why = "") => {
      const opened = await store.openKitchen(kitchen, visitor, entries, why, async (tx, kitchenId) => {
        await addMember(tx, kitchenId, visitor.personId, { role: "owner", seesMoney: true }, now());
        await writePeopleEntry(tx, { kitchenId, at: now(), by: visitor, what: "opened the kitchen", whom: visitor, after: { role: "owner", seesMoney: true } });
      });
      return opened.ok ? good(opened.value.id) : opened;
    },

    openKitchenFromFile: (visitor, file) => store.openFromFile(file, async (tx, kitchenId) => {
      await addMember(tx, kitchenId, visitor.personId, { role: "owner", seesMoney: true }, now());
      await writePeopleEntry(tx, { kitchenId, at: now(), by: visitor, what: "opened the kitchen", whom: visitor, after: { role: "owner", seesMoney: true } });
    }),

    programKeys: (kitchenId) => programKeys(database, kitchenId),
    makeProgramKey: (by, kitchenId, of) => makeProgramKey(database, clock, by, kitchenId, of),
    endProgramKey: (by, kitchenId, id) => endProgramKey(database, clock, by, kitchenId, id),
    programBehind: (key) => programBehind(database, clock, key),

    members: (kitchenId) => membersOf(database, clock, kitchenId),
    invitations: (kitchenId) => openLinks(database, clock, kitchenId),
    invite: async (by, kitchenId, { name, role, seesMoney }) => {
      const read = NAME.safeParse(name);
      if (!read.success) return bad("name", "not-a-name", read.error.issues[0]?.message ?? "Give a name.");
      const whom = read.data;
      return database.transaction(async (tx) => {
        await lockPeople(tx, kitchenId);
        return good({ token: await makeLink(tx, by, kitchenId, { purpose: "join", name: whom, role, seesMoney: role !== "cook" || seesMoney, personId: null }, now()) });
      });
    },
    withdraw: (by, kitchenId, id) => withdrawLink(database, clock, by, kitchenId, id),
    setStanding: (by, kitchenId, personId, standing) => setStanding(database, clock, by, kitchenId, personId, standing),
    remove: (by, kitchenId, personId) => removeMember(database, clock, by, kitchenId, personId),
    linkToNewPassword: (by, kitchenId, personId) => database.transaction(async (tx) => {
      await lockPeople(tx, kitchenId);
      const member = await findMember(tx, kitchenId, personId);
      if (member === null) return NOT_HERE;
      await lockPerson(tx, personId);
      if (await belongsBeyond(tx, by, personId)) return bad("", "of-another-kitchen", `${member.name} belongs to another kitchen too, and a new password would open that one as well. Only somebody who owns both can give this link.`);
      return good({ token: await makeLink(tx, by, kitchenId, { ...member, purpose: "new password" }, now()) });
    }),

    invitationBehind: (token) => linkBehind(database, clock, token),
    join: async (token, person, caller) => {
      const link = await linkBehind(database, clock, token);
      if (link?.purpose !== "join") return LINK_OVER;
      const checked = await checkPerson(person);
      if (!checked.ok) return checked;
      const joined = await database.transaction(async (tx): Promise<Checked<null>> => {
        await lockPeople(tx, link.kitchenId);
        const personId = await insertPerson(tx, checked.value, now());
        if (personId === null) return { ok: false, problems: [NAME_TAKEN] };
        if (!await useLink(tx, token, now())) throw new LinkGone();
        await addMember(tx, link.kitchenId, personId, link, now());
        const who = { name: checked.value.name, personId };
        await writePeopleEntry(tx, { kitchenId: link.kitchenId, at: now(), by: who, what: "joined", whom: who, after: link });
        return good(null);
      }).catch(linkGone);
      return joined.ok ? good(await signInAs(library, person, caller)) : joined;
    },
    joinAs: async (token, visitor) => {
      const link = await linkBehind(database, clock, token);
      if (link?.purpose !== "join") return LINK_OVER;
      return database.transaction(async (tx): Promise<Checked<null>> => {
        await lockPeople(tx, link.kitchenId);
        if (await findMember(tx, link.kitchenId, visitor.personId) !== null) return bad("", "here-already", "You belong to this kitchen already; the link is still good for whom it was meant.");
        if (!await useLink(tx, token, now())) return LINK_OVER;
        await addMember(tx, link.kitchenId, visitor.personId, link, now());
        await writePeopleEntry(tx, { kitchenId: link.kitchenId, at: now(), by: visitor, what: "joined", whom: visitor, after: link });
        return good(null);
      });
    },
    setNewPassword: async (token, password, caller) => {
      const link = await linkBehind(database, clock, token);
      if (link?.purpose !== "new password" || link.personId === null) return LINK_OVER;
      const { personId } = link;
      const person = await database.prisma.person.findUniqueOrThrow({ where: { id: personId } });
      const problems = passwordProblems(password, person);
      if (problems.length > 0) return { ok: false, problems };
      const hash = await hashPassword(password);
      const set = await database.transaction(async (tx): Promise<Checked<null>> => {
        await lockPeople(tx, link.kitchenId);
        if (!await useLink(tx, token, now())) return LINK_OVER;
        await tx.credential.updateMany({ where: { userId: personId, providerId: "credential" }, data: { password: hash, updatedAt: now() } });
        await tx.session.deleteMany({ where: { userId: personId } });
        const who = { name: person.name, personId };
        await writePeopleEntry(tx, { kitchenId: link.kitchenId, at: now(), by: who, what: "set a new password", whom: who });
        return good(null);
      });
      return set.ok ? good(await signInAs(library, { username: person.username, password }, caller)) : set;
    },

    changePassword: (visitor, passwords, caller) => changePassword(database, clock, visitor, passwords, caller),
    sessions: async (visitor) => {
      const rows = await database.prisma.session.findMany({ where: { userId: visitor.personId, expiresAt: { gt: now() } }, orderBy: { createdAt: "desc" } });
      return rows.map((row) => ({ id: row.id, since: row.createdAt.toISOString(), address: row.ipAddress ?? "", device: row.userAgent ?? "", here: row.id === visitor.sessionId }));
    },
    endSession: async (visitor, id) => {
      await database.prisma.session.deleteMany({ where: { id, userId: visitor.personId } });
    },
    endOtherSessions: async (visitor) => {
      await database.prisma.session.deleteMany({ where: { userId: visitor.personId, id: { not: visitor.sessionId } } });
    },
    peopleRecord: (kitchenId, limit) => readPeopleRecord(database, kitchenId, limit),
  };
  return access;
}

class TooLate extends Error {}
class LinkGone extends Error {}

const TOO_LATE = bad("", "not-the-first", "This installation has its first account already. Ask its owner for an invitation, or sign in.");

function linkGone(error: unknown): typeof LINK_OVER {
  if (error instanceof LinkGone) return LINK_OVER;
  throw error;
}

/** Throttled, and the same answer for a wrong password as for a name that nobody has. */
async function signIn(database: Database, clock: Clock, library: SignInLibrary, { username, password }: SignIn, caller: Caller): Promise<Checked<readonly Cookie[]>> {
  const name = signInName(username);
  if (name === "") return bad("username", "missing", "Give the name you sign in with.");
  if (password === "") return bad("password", "missing", "Give your password.");
  const whom: readonly Throttled[] = [{ kind: "account", of: name }, { kind: "address", of: caller.address }];
  const wait = await countAttempt(database, clock, whom);
  if (wait > 0) return tooMany(wait);
  if (name.length > 200 || password.length > 1000) return WRONG;
  try {
    const cookies = await signInAs(library, { username: name, password }, caller);
    await forgiveAttempt(database, clock, whom);
    return good(cookies);
  } catch (error) {
    if (isRefusal(error)) return WRONG;
    throw error;
  }
}

const tooMany = (wait: number): ReturnType<typeof bad> => bad("", "too-many", `There have been too many tries. Try again in ${waitWords(wait)}.`);

const WRONG = bad("password", "wrong", "That name and password do not go together. Mind capital letters in the password; if it is forgotten, the kitchen’s owner can give you a link to a new one.");

async function signInAs(library: SignInLibrary, { username, password }: SignIn, caller: Caller): Promise<readonly Cookie[]> {
  const { headers } = await library.api.signInUsername({ body: { username: signInName(username), password, rememberMe: true }, headers: caller.headers, returnHeaders: true });
  return cookiesOf(headers);
}

/** The library refuses by throwing with a status; anything else thrown is a fault. */
function isRefusal(error: unknown): boolean {
  const status = error instanceof Error && "statusCode" in error ? error.statusCode : null;
  return status === 401 || status === 422 || status === 400;
}

async function changePassword(
  database: Database, clock: Clock, visitor: Visitor, { now, next }: { readonly now: string; readonly next: string }, caller: Caller,
): Promise<Checked<null>> {
  const whom: readonly Throttled[] = [{ kind: "account", of: visitor.username }, { kind: "address", of: caller.address }];
  const wait = await countAttempt(database, clock, whom);
  if (wait > 0) return tooMany(wait);
  const credential = await database.prisma.credential.findFirst({ where: { userId: visitor.personId, providerId: "credential" } });
  if (!credential?.password || !await verifyPassword({ hash: credential.password, password: now })) return bad("now", "wrong", "That is not your password now.");
  await forgiveAttempt(database, clock, whom);
  const problems = passwordProblems(next, visitor, "next");
  if (problems.length > 0) return { ok: false, problems };
  const hash = await hashPassword(next);
  await database.transaction(async (tx) => {
    await tx.credential.update({ where: { id: credential.id }, data: { password: hash, updatedAt: new Date(clock.now()) } });
    await tx.session.deleteMany({ where: { userId: visitor.personId, id: { not: visitor.sessionId } } });
  });
  return good(null);
}
