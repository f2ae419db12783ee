/**
 * Every way into the app, and who may take it: one row for each page, each route handler and each server action. The
 * walk (walk.test.ts) fails for a way that is not listed here, and for a row whose way is gone; then it takes every one
 * as every kind of person. An action is sent with fields that would be recorded if they came from somebody who may.
 */
import type { Deed } from "@/lib/access";

/**
 * A deed of lib/access: whoever may do that in the kitchen they have open. "in a kitchen": any member of one. "signed
 * in": whoever has an account. "owns a kitchen": who may open a further one. "anybody": nobody is asked. "a link":
 * whoever holds a link that is still good. "the first": only while the installation has no account.
 */
export type Who = Deed | "in a kitchen" | "signed in" | "owns a kitchen" | "anybody" | "a link" | "the first";

/** Pages and route handlers by their path, as the built app names them. */
export const PATHS: Readonly<Record<string, Who>> = {
  "/": "in a kitchen",
  "/account": "read the book",
  "/allergens": "read the book",
  "/block": "record a test",
  "/block-worker.js": "anybody",
  "/block/[sheet]": "record a test",
  "/block/[sheet]/entries": "record a test",
  "/block/[sheet]/photos": "record a test",
  "/block/[sheet]/result": "record a test",
  "/cuts": "see money",
  "/cuts/[cut]": "see money",
  "/cuts/[cut]/specs/new": "change specs",
  "/cuts/[cut]/tests": "read the book",
  "/cuts/new": "change tests and cuts",
  "/dishes": "see money",
  "/dishes/[dish]": "see money",
  "/dishes/[dish]/edit": "change dishes and menu prices",
  "/dishes/[dish]/price": "change dishes and menu prices",
  "/dishes/new": "change dishes and menu prices",
  "/figure/[kind]/[id]": "see money",
  "/find": "read the book",
  "/find/answers": "read the book",
  "/glossary": "read the book",
  "/healthz": "anybody",
  "/house": "see money",
  "/icon.svg": "anybody",
  "/items": "see money",
  "/items/[item]": "see money",
  "/items/[item]/edit": "change items and prices",
  "/items/new": "change items and prices",
  "/join/[token]": "a link",
  "/kitchens": "signed in",
  "/kitchens/new": "owns a kitchen",
  "/lines/answers": "see money",
  "/live": "read the book",
  "/new-password/[token]": "a link",
  "/people": "look after people",
  "/photos": "record a test",
  "/photos/[photo]": "read the book",
  "/readyz": "anybody",
  "/recipes": "see money",
  "/recipes/[recipe]": "see money",
  "/recipes/[recipe]/card": "read the book",
  "/recipes/[recipe]/cost-sheet": "see money",
  "/recipes/[recipe]/edit": "change recipes",
  "/recipes/new": "change recipes",
  "/record": "see money",
  "/record/[change]": "see money",
  "/since": "see money",
  "/sign-in": "anybody",
  "/specs/[spec]": "see money",
  "/specs/[spec]/card": "read the book",
  "/specs/[spec]/prices": "see money",
  "/specs/[spec]/prices/sheet": "see money",
  "/start": "the first",
  "/tests": "read the book",
  "/tests/[test]": "read the book",
  "/tests/[test]/edit": "record a test",
  "/tests/[test]/paper": "read the book",
  "/tests/new": "record a test",
  "/tests/paper": "record a test",
  "/tries": "see money",
  "/tries/[try]": "see money",
  "/tries/[try]/figures": "see money",
  "/tries/compare": "see money",
  "/tries/names": "see money",
};

/** Route handlers that answer a program rather than a person: with a status, and send nobody anywhere. What each is sent. */
export const PROGRAMS: Readonly<Record<string, (ids: Ids) => { readonly method: "GET" | "POST"; readonly body?: FormData | string; readonly headers: Fields }>> = {
  "/block/[sheet]/entries": () => ({
    method: "POST", headers: { "content-type": "application/json", accept: "application/json" },
    body: JSON.stringify({ since: 0, entries: [{ id: "walker-entry", at: "2026-11-25T09:30:00.000Z", body: { kind: "note", text: "Walked by" } }] }),
  }),
  "/find/answers": () => ({ method: "GET", headers: { accept: "application/json" } }),
  "/lines/answers": () => ({ method: "GET", headers: { accept: "application/json" } }),
  // Without a stream: a program that asks for events is told of changes until it leaves.
  "/live": () => ({ method: "GET", headers: { accept: "application/json" } }),
  "/photos": (ids) => {
    const body = new FormData();
    body.append("test", ids.test);
    body.append("caption", "");
    body.append("photo", new Blob([new Uint8Array(ids.picture)], { type: "image/jpeg" }), "trim.jpg");
    return { method: "POST", headers: { accept: "application/json" }, body };
  },
  "/photos/[photo]": () => ({ method: "GET", headers: {} }),
  "/tries/[try]/figures": () => {
    const body = new FormData();
    body.append("add.share.of", "Heavy cream");
    body.append("add.share.by", "+8 %");
    return { method: "POST", headers: { accept: "application/json" }, body };
  },
  "/tries/names": () => ({ method: "GET", headers: { accept: "application/json" } }),
  "/specs/[spec]/prices/sheet": () => ({ method: "GET", headers: {} }),
};

/** Ids of a kitchen's facts that rows are filled with. Of the two tests, a cut stands on one. */
export interface Ids {
  readonly item: string;
  readonly dealer: string;
  readonly quote: string;
  readonly test: string;
  readonly testReliedOn: string;
  readonly cut: string;
  readonly spec: string;
  readonly recipe: string;
  readonly dish: string;
  readonly change: string;
  /** A sheet at the block, every part weighed; a photo of the test, and a picture to send for another. */
  readonly sheet: string;
  readonly photo: string;
  readonly picture: Uint8Array;
  /** A try-out of one move: a menu price. */
  readonly tryout: string;
  /** An open invitation, somebody in the kitchen, and one of their sessions. */
  readonly invitation: string;
  readonly person: string;
  readonly session: string;
  readonly kitchen: string;
}

export interface ActionDoor {
  readonly who: Who;
  /** What the form sends; `n` makes what is new in it new each time. */
  readonly fields: (ids: Ids, n: string) => Fields;
  /** It is sent a form and no state, and answers with a page. */
  readonly plain?: true;
  /** Fields that need not name what is there: what they call by an id is made then, in one's own kitchen, or is only a way back. */
  readonly free?: readonly string[];
  /** It ends a session, or begins another. */
  readonly turnsSession?: true;
  /** What it takes to be somebody else's way in (a token, a password) is not in the fields: it refuses everybody, and does so with one of these. */
  readonly refusesWith?: RegExp;
}
export type Fields = Readonly<Record<string, string>>;

const yesterday = (): string => new Date(Date.now() - 24 * 3_600_000).toISOString().slice(0, 10);

const line = (n: string): Fields => ({ "lines.blank": "of,quantity", "lines.0.key": `line-${n}`, "lines.0.of": "Heavy cream", "lines.0.quantity": "1 qt", "lines.0.note": "" });
const quote = (ids: Ids): Fields => ({ "quote.dealerId": ids.dealer, "quote.pack": "12 lb", "quote.price": "9.99", "quote.per": "lb", "quote.basis": "quoted", "quote.code": "" });
const testFields = (id: string, ids: Ids): Fields => ({
  id, kind: "butcher", of: `item:${ids.item}`, dealerId: ids.dealer, on: yesterday(), cutter: "Walker", pieces: "1", billed: "13 lb", price: "10.85", scaleStep: "", note: "", followsTestId: "", adopt: "",
  "parts.blank": "weight", "parts.0.key": "trimmed-striploin", "parts.0.name": "Striploin, trimmed", "parts.0.role": "main", "parts.0.weight": "9 lb", "parts.0.pieces": "",
  "parts.1.key": "fat", "parts.1.name": "Fat", "parts.1.role": "discard", "parts.1.weight": "3 lb",
});
const LINK_OVER = /link-over/;

/** Server actions by file and export name. */
export const ACTIONS: Readonly<Record<string, ActionDoor>> = {
  "app/(block)/block/actions.ts beginSheet": { who: "record a test", fields: (ids) => ({ of: `item:${ids.item}`, kind: "", dealerId: ids.dealer }), plain: true, free: ["dealerId"] },
  "app/(block)/block/actions.ts putAway": { who: "record a test", fields: (ids) => ({ sheet: ids.sheet }), plain: true },
  "app/(block)/block/actions.ts recordSheet": { who: "record a test", fields: (ids) => ({ sheet: ids.sheet, cutId: "", adopt: "" }) },
  "app/(kitchen)/account/actions.ts changePassword": { who: "signed in", fields: () => ({ now: "not my password", next: "quite another one" }), refusesWith: /"wrong"|too-many/ },
  "app/(kitchen)/account/actions.ts endSession": { who: "signed in", fields: (ids) => ({ session: ids.session }), turnsSession: true },
  "app/(kitchen)/cuts/[cut]/borrowed-actions.ts borrowYield": { who: "change tests and cuts", fields: (ids) => ({ id: ids.cut, borrow: "" }) },
  "app/(kitchen)/cuts/[cut]/borrowed-actions.ts giveBack": { who: "change tests and cuts", fields: (ids) => ({ id: ids.cut }) },
  "app/(kitchen)/cuts/actions.ts poolTests": { who: "change tests and cuts", fields: (ids) => ({ id: ids.cut, [`keep.${ids.test}`]: "yes" }) },
  "app/(kitchen)/cuts/actions.ts takeBack": { who: "change tests and cuts", fields: (ids) => ({ id: ids.cut, waiting: "" }) },
  "app/(kitchen)/cuts/actions.ts saveCut": { who: "change tests and cuts", fields: (ids, n) => ({ id: `cut-${n}`, name: `Cut ${n}`, of: `item:${ids.item}`, partKey: "", specification: "", repricing: "", joint: "sales-value" }) },
  "app/(kitchen)/cuts/actions.ts saveSpec": { who: "change specs", fields: (ids, n) => ({ id: `spec-${n}`, cutId: ids.cut, name: `Portion ${n}`, size: "9 oz", tolerance: "", thickness: "", trim: "", costing: "by-weight", endValue: "" }) },
  "app/(kitchen)/cuts/actions.ts withdrawCut": { who: "change tests and cuts", fields: (ids) => ({ id: ids.cut }) },
  "app/(kitchen)/cuts/actions.ts withdrawSpec": { who: "change specs", fields: (ids) => ({ id: ids.spec }) },
  "app/(kitchen)/dishes/actions.ts priceDish": { who: "change dishes and menu prices", fields: (ids, n) => ({ id: ids.dish, gross: `4${n}.00`, taxRate: "", target: "" }) },
  "app/(kitchen)/dishes/actions.ts saveDish": { who: "change dishes and menu prices", fields: (_, n) => ({ id: `dish-${n}`, name: `Dish ${n}`, section: "", note: "", gross: "20", target: "", ...line(n), "lines.0.role": "main" }) },
  "app/(kitchen)/dishes/actions.ts withdrawDish": { who: "change dishes and menu prices", fields: (ids) => ({ id: ids.dish }) },
  "app/(kitchen)/house/actions.ts saveHouse": { who: "change the kitchen", fields: (_, n) => ({ near: `1.${n} %` }) },
  "app/(kitchen)/items/actions.ts addItem": { who: "change items and prices", fields: (ids, n) => ({ id: `item-${n}`, name: `Item ${n}`, section: "", specification: "", kind: "mass", quoteId: `quote-${n}`, ...quote(ids) }) },
  "app/(kitchen)/items/actions.ts buyFrom": { who: "change items and prices", fields: (ids) => ({ id: ids.item, dealerId: "" }) },
  "app/(kitchen)/items/actions.ts editItem": { who: "change items and prices", fields: (ids, n) => ({ id: ids.item, name: "Beef striploin, boneless", section: "Beef", specification: `Number ${n}`, kind: "mass", dealerId: ids.dealer }), free: ["id"] },
  "app/(kitchen)/items/actions.ts repriceItem": { who: "change items and prices", fields: (ids, n) => ({ quoteId: ids.quote, price: `11.${n}` }) },
  "app/(kitchen)/items/actions.ts saveQuote": { who: "change items and prices", fields: (ids, n) => ({ quoteId: ids.quote, itemId: ids.item, ...quote(ids), "quote.price": `12.${n}` }), free: ["quoteId"] },
  "app/(kitchen)/items/actions.ts withdrawItem": { who: "change items and prices", fields: (ids) => ({ id: ids.item }) },
  "app/(kitchen)/items/actions.ts withdrawQuote": { who: "change items and prices", fields: (ids) => ({ quoteId: ids.quote, itemId: ids.item }), free: ["itemId"] },
  "app/(kitchen)/people/actions.ts invite": { who: "look after people", fields: (_, n) => ({ name: `Guest ${n}`, role: "owner" }) },
  "app/(kitchen)/people/actions.ts linkToNewPassword": { who: "look after people", fields: (ids) => ({ person: ids.person }) },
  "app/(kitchen)/people/actions.ts setStanding": { who: "look after people", fields: (ids) => ({ person: ids.person, role: "owner" }) },
  "app/(kitchen)/people/actions.ts withdrawInvitation": { who: "look after people", fields: (ids) => ({ invitation: ids.invitation }) },
  "app/(kitchen)/people/actions.ts removePerson": { who: "look after people", fields: (ids) => ({ person: ids.person }) },
  "app/(kitchen)/recipes/actions.ts saveRecipe": { who: "change recipes", fields: (_, n) => ({ id: `recipe-${n}`, name: `Recipe ${n}`, section: "", method: "", "yields.0": "1 qt", "yields.1": "", "yields.2": "", ...line(n) }) },
  "app/(kitchen)/recipes/actions.ts withdrawRecipe": { who: "change recipes", fields: (ids) => ({ id: ids.recipe }) },
  "app/(kitchen)/record/actions.ts undoChange": { who: "see money", fields: (ids) => ({ change: ids.change, why: "" }) },
  "app/(kitchen)/tests/actions.ts adoptTest": { who: "change tests and cuts", fields: (ids) => ({ testId: ids.test, cutId: "", adopt: ids.cut, adoptName: "", adoptPooled: "", partKey: "trimmed-striploin", repricing: "keep", joint: "keep" }) },
  "app/(kitchen)/tests/actions.ts recordTest": { who: "record a test", fields: (ids, n) => testFields(`test-${n}`, ids) },
  "app/(kitchen)/tests/actions.ts withdrawTest": { who: "change tests and cuts", fields: (ids) => ({ id: ids.test }) },
  "app/(kitchen)/tries/actions.ts beginTry": { who: "see money", fields: (_, n) => ({ name: `Tried ${n}` }), plain: true },
  "app/(kitchen)/tries/actions.ts doubleTry": { who: "see money", fields: (ids) => ({ try: ids.tryout }), plain: true },
  "app/(kitchen)/tries/actions.ts dropTry": { who: "see money", fields: (ids) => ({ try: ids.tryout, drop: "no" }), plain: true },
  "app/(kitchen)/tries/actions.ts keepDesk": { who: "see money", fields: (ids) => ({ try: ids.tryout, "add.share.of": "Heavy cream", "add.share.by": "+8 %" }) },
  "app/(kitchen)/tries/actions.ts renameTry": { who: "see money", fields: (ids, n) => ({ try: ids.tryout, name: `Tried ${n}` }) },
  "app/(kitchen)/tries/actions.ts makeTryReal": { who: "change dishes and menu prices", fields: (ids) => ({ try: ids.tryout, seen: "yes", revisions: "{}" }) },
  "app/join/[token]/actions.ts join": { who: "a link", fields: (_, n) => ({ token: "made-up", name: "Somebody", username: `somebody.${n}`, password: "a case of carrots" }), refusesWith: LINK_OVER },
  "app/join/[token]/actions.ts joinAs": { who: "a link", fields: () => ({ token: "made-up" }), refusesWith: /link-over|signed-out/ },
  "app/kitchens/actions.ts goTo": { who: "signed in", fields: (ids) => ({ kitchen: ids.kitchen }), plain: true },
  "app/kitchens/actions.ts openDemo": { who: "owns a kitchen", fields: () => ({}) },
  "app/kitchens/actions.ts openEmpty": { who: "owns a kitchen", fields: (_, n) => ({ name: `Kitchen ${n}`, place: "", measures: "us", currency: "USD", locale: "en-US", timeZone: "America/New_York", taxRate: "0", target: "30", near: "1 %" }) },
  "app/kitchens/actions.ts signOut": { who: "anybody", fields: () => ({}), plain: true, turnsSession: true },
  "app/new-password/[token]/actions.ts setNewPassword": { who: "a link", fields: () => ({ token: "made-up", password: "a case of carrots" }), refusesWith: LINK_OVER },
  "app/photos/actions.ts putBackPhoto": { who: "record a test", fields: (ids) => ({ photo: ids.photo }), plain: true },
  "app/photos/actions.ts removePhoto": { who: "record a test", fields: (ids) => ({ photo: ids.photo }), plain: true },
  "app/sign-in/actions.ts signIn": { who: "anybody", fields: () => ({ username: "nobody.here", password: "a case of carrots", to: "/" }), refusesWith: /"wrong"|too-many/ },
  "app/start/actions.ts makeFirst": { who: "the first", fields: (_, n) => ({ name: "Late", username: `late.${n}`, password: "a case of carrots" }), refusesWith: /not-the-first/ },
};

/** Forms that ask for more than their page shows: what they would do on the side is somebody else's deed. */
export const REACHES: readonly { readonly what: string; readonly action: string; readonly who: Deed; readonly fields: ActionDoor["fields"] }[] = [
  { what: "correct a test that a cut stands on", action: "app/(kitchen)/tests/actions.ts recordTest", who: "change tests and cuts", fields: (ids) => testFields(ids.testReliedOn, ids) },
  { what: "adopt the new test for a cut", action: "app/(kitchen)/tests/actions.ts recordTest", who: "change tests and cuts", fields: (ids, n) => ({ ...testFields(`test-side-${n}`, ids), adopt: ids.cut, repricing: "keep", joint: "keep" }) },
  { what: "adopt the new test for a new cut", action: "app/(kitchen)/tests/actions.ts recordTest", who: "change tests and cuts", fields: (ids, n) => ({ ...testFields(`test-new-${n}`, ids), adopt: "new", adoptName: `Cut on the side ${n}`, cutId: `cut-side-${n}` }) },
  { what: "adopt what was weighed at the block for a cut", action: "app/(block)/block/actions.ts recordSheet", who: "change tests and cuts", fields: (ids) => ({ sheet: ids.sheet, cutId: "", adopt: ids.cut, repricing: "keep", joint: "keep" }) },
];
