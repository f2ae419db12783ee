/**
 * Who may do what: one table, in the trade's own roles. Every page and every action asks here by the name of a deed;
 * recording a change asks once more, fact by fact, so that a form that sends more than its page shows gets nothing
 * further. A person has one role in each kitchen they belong to.
 */
import type { Change, FactKind } from "@/lib/book";

export const ROLES = ["owner", "chef", "sous chef", "cook", "reader"] as const;
export type Role = (typeof ROLES)[number];

/** What each role is for, in a sentence for whoever gives it. */
export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  owner: "everything, people and programs included",
  chef: "everything but people and programs",
  "sous chef": "tests, cuts, specs, recipes, deliveries and orders; not prices, dishes or targets",
  cook: "records tests; sees no money unless allowed",
  reader: "sees everything, changes nothing",
};

/** The deeds, and the roles that may do them. */
export const DEEDS = {
  /** Pages that carry no money: tests with their weights, the words. */
  "read the book": ["owner", "chef", "sous chef", "cook", "reader"],
  /** Prices, costs, margins, and every page made of them. A cook only where the owner allows it. */
  "see money": ["owner", "chef", "sous chef", "reader"],
  "record a test": ["owner", "chef", "sous chef", "cook"],
  "change tests and cuts": ["owner", "chef", "sous chef"],
  "change specs": ["owner", "chef", "sous chef"],
  "change recipes": ["owner", "chef", "sous chef"],
  "change items and prices": ["owner", "chef"],
  "record deliveries": ["owner", "chef", "sous chef"],
  "plan orders": ["owner", "chef", "sous chef"],
  "change dishes and menu prices": ["owner", "chef"],
  "tell what was sold": ["owner", "chef"],
  "change the kitchen": ["owner", "chef"],
  "look after people": ["owner"],
  "look after programs": ["owner"],
} as const satisfies Readonly<Record<string, readonly Role[]>>;
export type Deed = keyof typeof DEEDS;

/** What somebody is in a kitchen. */
export interface Standing {
  readonly role: Role;
  /** For a cook: whether the owner lets them see money. */
  readonly seesMoney: boolean;
}

export function may({ role, seesMoney }: Standing, deed: Deed): boolean {
  if (deed === "see money" && role === "cook") return seesMoney;
  return (DEEDS[deed] as readonly Role[]).includes(role);
}

/** All that somebody may do. */
export function deedsOf(standing: Standing): readonly Deed[] {
  return (Object.keys(DEEDS) as Deed[]).filter((deed) => may(standing, deed));
}

/** The deed that recording a fact of each kind is. */
const RECORDING: Readonly<Record<FactKind, Deed>> = {
  kitchen: "change the kitchen",
  dealer: "change items and prices",
  item: "change items and prices",
  quote: "change items and prices",
  delivery: "record deliveries",
  test: "record a test",
  cut: "change tests and cuts",
  spec: "change specs",
  recipe: "change recipes",
  dish: "change dishes and menu prices",
  menuPrice: "change dishes and menu prices",
  sales: "tell what was sold",
};

/**
 * The deed that a change of a fact is. Recording a test is everybody's at the block; a test that costs rest on already
 * (`reliedOn`: a cut stands on it), or one that is taken off, is a matter for whoever answers for the cuts.
 */
export function deedOf(change: Change, reliedOn: boolean): Deed {
  if (change.kind === "test" && (change.after === null || reliedOn)) return "change tests and cuts";
  return RECORDING[change.kind];
}

/** The sentence for somebody who may not: what it takes, and whom to ask. */
export function refusal(deed: Deed): string {
  const roles = DEEDS[deed] as readonly Role[];
  const last = roles.at(-1) ?? "owner";
  const named = roles.length === 1 ? last : `${roles.slice(0, -1).join(", ")} or ${last}`;
  return `That is for the ${named} of this kitchen. Ask one of them, or ask the owner to change what you may do.`;
}

export function isRole(word: string): word is Role {
  return (ROLES as readonly string[]).includes(word);
}
