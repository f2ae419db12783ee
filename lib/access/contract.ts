/**
 * What the rest of the house may ask about people: who is there, what they may do, and how they come and go. Moments
 * are in UTC ("2026-11-25T09:30:00.000Z").
 */
import type { Kitchen } from "@/lib/book";
import type { Checked } from "@/lib/measure";
import type { DatedChange, KitchenFile, OpenedFromFile } from "@/lib/store";
import type { Role, Standing } from "./roles";

/** Somebody who is signed in. */
export interface Visitor {
  readonly personId: string;
  /** What the record calls them. */
  readonly name: string;
  readonly username: string;
  readonly sessionId: string;
}

/** Where a request comes from: its address is throttled, its headers carry the cookie. */
export interface Caller {
  readonly address: string;
  readonly headers: Headers;
}

/** A cookie for the browser to keep. */
export interface Cookie {
  readonly name: string;
  readonly value: string;
  readonly options: {
    readonly path: string;
    readonly httpOnly: boolean;
    readonly secure: boolean;
    readonly sameSite: "lax" | "strict";
    /** Seconds; 0 takes the cookie away. */
    readonly maxAge?: number | undefined;
  };
}

export interface NewPerson {
  readonly name: string;
  readonly username: string;
  readonly password: string;
}

export interface SignIn {
  readonly username: string;
  readonly password: string;
}

/** A kitchen that somebody belongs to. */
export interface Membership extends Standing {
  readonly kitchenId: string;
}

/** Somebody who belongs to a kitchen. */
export interface Member extends Standing {
  readonly personId: string;
  readonly name: string;
  readonly username: string;
  readonly since: string;
  /** When they last signed in or were seen, null if not of late. */
  readonly lastSeen: string | null;
}

export interface Invitation extends Standing {
  readonly id: string;
  readonly kitchenId: string;
  readonly purpose: "join" | "new password";
  /** Whom it is for, as the owner wrote it. */
  readonly name: string;
  readonly personId: string | null;
  readonly createdBy: string;
  readonly createdAt: string;
  readonly expiresAt: string;
}

export interface OpenSession {
  readonly id: string;
  readonly since: string;
  readonly address: string;
  readonly device: string;
  /** The one that asks. */
  readonly here: boolean;
}

/** A program's key, as its kitchen's owners see it: never the key itself. */
export interface ProgramKey {
  readonly id: string;
  /** Which program it is for, in the owner's words. */
  readonly name: string;
  /** "write" reads as well. */
  readonly may: "read" | "write";
  readonly createdAt: string;
  readonly createdBy: string;
  /** To the minute; null: never. */
  readonly lastUsedAt: string | null;
  /** null while it is in force. */
  readonly ended: { readonly at: string; readonly by: string } | null;
}

/** A program that has come in with its key. */
export interface Program {
  readonly kitchenId: string;
  readonly id: string;
  /** What the record calls it: "Till export (program)". */
  readonly name: string;
  readonly may: ProgramKey["may"];
}

/** One thing that was done about people in a kitchen. */
export interface PeopleEntry {
  readonly no: number;
  readonly at: string;
  readonly by: string;
  readonly what: PeopleDeed;
  readonly whom: string;
  readonly before: string | null;
  readonly after: string | null;
}
export type PeopleDeed = "opened the kitchen" | "invited" | "withdrew the invitation" | "joined" | "changed what they may do" | "removed" | "gave a link to a new password" | "set a new password";

export interface Access {
  /** True while nobody has an account: the installation is new. */
  isNew(): Promise<boolean>;
  /** Makes the first account of the installation and signs it in. Refused once there is one, whoever asks. */
  makeFirst(person: NewPerson, caller: Caller): Promise<Checked<readonly Cookie[]>>;
  signIn(as: SignIn, caller: Caller): Promise<Checked<readonly Cookie[]>>;
  signOut(caller: Caller): Promise<readonly Cookie[]>;
  /** Who sends these headers; null when nobody is signed in. */
  visitor(headers: Headers): Promise<Visitor | null>;

  /** The kitchens somebody belongs to, oldest first. */
  kitchensOf(personId: string): Promise<readonly Membership[]>;
  membership(personId: string, kitchenId: string): Promise<Standing | null>;
  /** Whether they may open a further kitchen: the first person of the installation, and whoever owns one. */
  mayOpenKitchens(personId: string): Promise<boolean>;
  /** Opens a kitchen with its first owner, in one transaction. */
  openKitchen(visitor: Visitor, kitchen: Kitchen, entries?: readonly DatedChange[], why?: string): Promise<Checked<string>>;
  /** Opens a kitchen from a file, with its whole record, and with its first owner; in one transaction. */
  openKitchenFromFile(visitor: Visitor, file: KitchenFile): Promise<Checked<OpenedFromFile>>;

  /** The keys of programs in a kitchen: those in force first, the newest first. */
  programKeys(kitchenId: string): Promise<readonly ProgramKey[]>;
  /** Makes a key; it is told this once. */
  makeProgramKey(by: Visitor, kitchenId: string, of: Pick<ProgramKey, "name" | "may">): Promise<Checked<{ readonly key: string; readonly id: string }>>;
  /** False when it was ended already, or is not there. */
  endProgramKey(by: Visitor, kitchenId: string, id: string): Promise<boolean>;
  /** null: no such key is in force. */
  programBehind(key: string): Promise<Program | null>;

  members(kitchenId: string): Promise<readonly Member[]>;
  /** The invitations that can still be used, newest first. */
  invitations(kitchenId: string): Promise<readonly Invitation[]>;
  /** Makes a one-time link; `token` is what stands in it, and is told this once. */
  invite(by: Visitor, kitchenId: string, whom: { readonly name: string; readonly role: Role; readonly seesMoney: boolean }): Promise<Checked<{ readonly token: string }>>;
  withdraw(by: Visitor, kitchenId: string, invitationId: string): Promise<Checked<null>>;
  setStanding(by: Visitor, kitchenId: string, personId: string, standing: Standing): Promise<Checked<null>>;
  remove(by: Visitor, kitchenId: string, personId: string): Promise<Checked<null>>;
  /** A one-time link to a new password for somebody who has forgotten theirs. */
  linkToNewPassword(by: Visitor, kitchenId: string, personId: string): Promise<Checked<{ readonly token: string }>>;

  /** The invitation behind a link; null when it is used, withdrawn, over or never was. */
  invitationBehind(token: string): Promise<Invitation | null>;
  /** Comes in with a link: a new account, signed in. */
  join(token: string, person: NewPerson, caller: Caller): Promise<Checked<readonly Cookie[]>>;
  /** Comes in with a link, as who is signed in already. */
  joinAs(token: string, visitor: Visitor): Promise<Checked<null>>;
  /** Sets a new password with a link, and signs in; every other session ends. */
  setNewPassword(token: string, password: string, caller: Caller): Promise<Checked<readonly Cookie[]>>;

  changePassword(visitor: Visitor, passwords: { readonly now: string; readonly next: string }, caller: Caller): Promise<Checked<null>>;
  sessions(visitor: Visitor): Promise<readonly OpenSession[]>;
  endSession(visitor: Visitor, sessionId: string): Promise<void>;
  endOtherSessions(visitor: Visitor): Promise<void>;

  /** What was done about people, newest first. */
  peopleRecord(kitchenId: string, limit: number): Promise<readonly PeopleEntry[]>;
}
