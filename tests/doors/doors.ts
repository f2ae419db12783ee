/**
 * Every way into the app, and who may take it: one row for each page, each route handler and each server action. The
 * walk (walk.test.ts) fails for a way that is not listed here, and for a row whose way is gone; then it takes every one
 * as every kind of person. An action is sent with fields that would be recorded if they came from somebody who may.
 */
import type { Deed } from "@/lib/access";

/**
 * A deed of lib/access: whoever may do that in the kitchen they have open. "in a kitchen": any member of one. "signed
 * in": whoever has an account. "owns a kitchen": who may open a further one. "anybody": nobody is asked. "a link":
 * whoever holds a link that is still good. "a key": a program with a key of its own, and no person. "the first": only
 * while the installation has no account.
 */
export type Who = Deed | "in a kitchen" | "signed in" | "owns a kitchen" | "anybody" | "a link" | "a key" | "the first";

/** Pages and route handlers by their path, as the built app names them. */
export const PATHS: Readonly<Record<string, Who>> = {
  "/": "in a kitchen",
  "/account": "read the book",
  "/allergens": "read the book",
  "/api/[...rest]": "anybody",
  "/api/v1": "a key",
  "/api/v1/book/[kind]": "a key",
  "/api/v1/book/[kind]/[id]": "a key",
  "/api/v1/changes": "a key",
  "/api/v1/costs/[kind]": "a key",
  "/api/v1/costs/[kind]/[id]": "a key",
  "/api/v1/costs/[kind]/[id]/history": "a key",
  "/api/v1/dishes": "a key",
  "/api/v1/openapi.json": "anybody",
  "/api/v1/record": "a key",
  "/api/v1/record/[changeNo]": "a key",
  "/api/v1/revisions/[kind]/[id]": "a key",
  "/block": "record a test",
  "/block-worker.js": "anybody",
  "/block/[sheet]": "record a test",
  "/block/[sheet]/entries": "record a test",
  "/block/[sheet]/photos": "record a test",
  "/block/[sheet]/result": "record a test",
  "/by-products": "see money",
  "/by-products/[product]": "see money",
  "/by-products/loop": "change tests and cuts",
  "/by-products/new": "change items and prices",
  "/cuts": "see money",
  "/cuts/[cut]": "see money",
  "/cuts/[cut]/specs/new": "change specs",
  "/cuts/[cut]/tests": "read the book",
  "/cuts/new": "change tests and cuts",
  "/dealers": "see money",
  "/dealers/[dealer]": "see money",
  "/dealers/[dealer]/edit": "change items and prices",
  "/dealers/new": "change items and prices",
  "/deliveries": "see money",
  "/deliveries/[delivery]": "see money",
  "/deliveries/[delivery]/edit": "record deliveries",
  "/deliveries/claims/[dealer]": "see money",
  "/deliveries/new": "record deliveries",
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
  "/items/[item]/dealers": "see money",
  "/items/[item]/edit": "change items and prices",
  "/items/[item]/prices": "see money",
  "/items/new": "change items and prices",
  "/join/[token]": "a link",
  "/kitchens": "signed in",
  "/kitchens/file": "owns a kitchen",
  "/kitchens/new": "owns a kitchen",
  "/lines/answers": "see money",
  "/lists": "see money",
  "/lists/[list]": "see money",
  "/lists/[list]/record": "change items and prices",
  "/lists/file": "change items and prices",
  "/lists/new": "change items and prices",
  "/live": "read the book",
  "/new-password/[token]": "a link",
  "/out": "see money",
  "/out/[what]": "see money",
  "/out/kitchen.json": "change the kitchen",
  "/orders": "see money",
  "/orders/[order]": "see money",
  "/orders/[order]/edit": "plan orders",
  "/orders/[order]/paper": "see money",
  "/orders/[order]/sheet": "see money",
  "/orders/new": "plan orders",
  "/people": "look after people",
  "/photos": "record a test",
  "/photos/[photo]": "read the book",
  "/programs": "look after programs",
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
  "/specs/[spec]/make-or-buy": "see money",
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
export const PROGRAMS: Readonly<Record<string, (ids: Ids) => {
  readonly method: "GET" | "POST";
  readonly body?: FormData | string;
  readonly headers: Fields;
  /** How whoever may is answered; 200 unless said otherwise. */
  readonly status?: number;
}>> = {
  "/api/[...rest]": () => ({ method: "GET", headers: {}, status: 404 }),
  "/api/v1": () => ({ method: "GET", headers: {} }),
  "/api/v1/book/[kind]": () => ({ method: "GET", headers: {} }),
  "/api/v1/book/[kind]/[id]": () => ({ method: "GET", headers: {} }),
  "/api/v1/changes": (ids) => ({ method: "POST", headers: { "content-type": "application/json" }, body: JSON.stringify({ entries: [{ kind: "dish", id: ids.dish, fact: null }] }) }),
  "/api/v1/costs/[kind]": () => ({ method: "GET", headers: {} }),
  "/api/v1/costs/[kind]/[id]": () => ({ method: "GET", headers: {} }),
  "/api/v1/costs/[kind]/[id]/history": () => ({ method: "GET", headers: {} }),
  "/api/v1/dishes": () => ({ method: "GET", headers: {} }),
  "/api/v1/openapi.json": () => ({ method: "GET", headers: {} }),
  "/api/v1/record": () => ({ method: "GET", headers: {} }),
  "/api/v1/record/[changeNo]": () => ({ method: "GET", headers: {} }),
  "/api/v1/revisions/[kind]/[id]": () => ({ method: "GET", headers: {} }),
  // No kitchen is opened from it: whoever may is told what is wrong with the file.
  "/kitchens/file": () => {
    const body = new FormData();
    body.append("file", new Blob(["{}"], { type: "application/json" }), "kitchen.json");
    return { method: "POST", headers: { accept: "application/json" }, body, status: 400 };
  },
  "/out/[what]": () => ({ method: "GET", headers: {} }),
  "/out/kitchen.json": () => ({ method: "GET", headers: {} }),
  "/block/[sheet]/entries": () => ({
    method: "POST", headers: { "content-type": "application/json", accept: "application/json" },
    body: JSON.stringify({ since: 0, entries: [{ id: "walker-entry", at: "2026-11-25T09:30:00.000Z", body: { kind: "note", text: "Walked by" } }] }),
  }),
  "/find/answers": () => ({ method: "GET", headers: { accept: "application/json" } }),
  "/lines/answers": () => ({ method: "GET", headers: { accept: "application/json" } }),
  // Neither records anything: without its version a list is not recorded, and a file that is none is not kept.
  "/lists/[list]/record": () => ({ method: "POST", headers: { accept: "application/x-ndjson" }, body: new FormData() }),
  "/lists/file": (ids) => {
    const body = new FormData();
    body.append("dealer", ids.dealer);
    body.append("file", new Blob(["Code;Price\n"], { type: "text/csv" }), "list.csv");
    return { method: "POST", headers: { accept: "application/x-ndjson" }, body };
  },
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
  "/orders/[order]/sheet": () => ({ method: "GET", headers: {} }),
  "/specs/[spec]/prices/sheet": () => ({ method: "GET", headers: {} }),
};

/** Ids of a kitchen's facts that rows are filled with. Of the two tests, a cut stands on one. */
export interface Ids {
  readonly item: string;
  readonly dealer: string;
  readonly delivery: string;
  readonly quote: string;
  readonly test: string;
  readonly testReliedOn: string;
  /** A by-product of the house. */
  readonly product: string;
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
  /** An order for ten of a dish. */
  readonly order: string;
  /** A price list of the dealer that waits. */
  readonly list: string;
  /** An open invitation, somebody in the kitchen, and one of their sessions. */
  readonly invitation: string;
  /** A program's key. */
  readonly program: string;
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
  "app/(kitchen)/dealers/actions.ts saveDealer": { who: "change items and prices", fields: (_, n) => ({ id: `dealer-${n}`, name: `Dealer ${n}`, minimumOrder: "150", ordering: "By 4 pm", note: "" }) },
  "app/(kitchen)/dealers/actions.ts withdrawDealer": { who: "change items and prices", fields: (ids) => ({ id: ids.dealer }) },
  "app/(kitchen)/deliveries/actions.ts fillDelivery": { who: "record deliveries", fields: () => ({ dealerId: "", cartons: "(01)90614141000015(3202)001300(10)L1" }) },
  "app/(kitchen)/deliveries/actions.ts saveDelivery": { who: "record deliveries", fields: (ids, n) => ({ id: `delivery-${n}`, dealerId: ids.dealer, number: `N-${n}`, kind: "invoice", on: "2026-11-20", "lines.blank": "item,billed,price", "lines.0.item": "Beef striploin, boneless", "lines.0.packs": "1", "lines.0.billed": "13 lb", "lines.0.price": `10.${n}`, "lines.0.per": "lb", "lines.0.amount": "", "lines.0.received": "", "lines.0.lot": "", "lines.0.useBy": "", "lines.0.note": "", note: "" }) },
  "app/(kitchen)/deliveries/actions.ts withdrawDelivery": { who: "record deliveries", fields: (ids) => ({ id: ids.delivery }) },
  "app/(kitchen)/dishes/actions.ts priceDish": { who: "change dishes and menu prices", fields: (ids, n) => ({ id: ids.dish, gross: `4${n}.00`, taxRate: "", target: "" }) },
  "app/(kitchen)/dishes/actions.ts saveDish": { who: "change dishes and menu prices", fields: (_, n) => ({ id: `dish-${n}`, name: `Dish ${n}`, section: "", note: "", gross: "20", target: "", ...line(n), "lines.0.role": "main" }) },
  "app/(kitchen)/dishes/actions.ts withdrawDish": { who: "change dishes and menu prices", fields: (ids) => ({ id: ids.dish }) },
  "app/(kitchen)/house/actions.ts saveHouse": { who: "change the kitchen", fields: (_, n) => ({ near: `1.${n} %` }) },
  "app/(kitchen)/by-products/actions.ts makeByProduct": { who: "change items and prices", fields: (ids, n) => ({ id: `item-${n}`, name: `By-product ${n}`, section: "", kind: "mass", testId: ids.testReliedOn, key: "lean-trim", "transfer.kind": "fixed", "transfer.rate": "2.10 / lb", "transfer.source": "decided" }) },
  "app/(kitchen)/by-products/actions.ts passOn": { who: "change items and prices", fields: (ids, n) => ({ id: ids.product, "transfer.kind": "fixed", "transfer.rate": `1.${n} / lb`, "transfer.source": "decided", "transfer.destination": "staff meal" }), free: ["id"] },
  "app/(kitchen)/by-products/actions.ts valueAt": { who: "change tests and cuts", fields: (ids) => ({ part: `${ids.testReliedOn} lean-trim`, earns: `item:${ids.item}` }) },
  "app/(kitchen)/items/actions.ts addItem": { who: "change items and prices", fields: (ids, n) => ({ id: `item-${n}`, name: `Item ${n}`, section: "", specification: "", kind: "mass", quoteId: `quote-${n}`, ...quote(ids) }) },
  "app/(kitchen)/items/actions.ts buyFrom": { who: "change items and prices", fields: (ids) => ({ id: ids.item, dealerId: "" }) },
  "app/(kitchen)/items/actions.ts editItem": { who: "change items and prices", fields: (ids, n) => ({ id: ids.item, name: "Beef striploin, boneless", section: "Beef", specification: `Number ${n}`, kind: "mass", dealerId: ids.dealer }), free: ["id"] },
  "app/(kitchen)/items/actions.ts repriceItem": { who: "change items and prices", fields: (ids, n) => ({ quoteId: ids.quote, price: `11.${n}` }) },
  "app/(kitchen)/items/actions.ts saveQuote": { who: "change items and prices", fields: (ids, n) => ({ quoteId: ids.quote, itemId: ids.item, ...quote(ids), "quote.price": `12.${n}` }), free: ["quoteId"] },
  "app/(kitchen)/items/actions.ts withdrawItem": { who: "change items and prices", fields: (ids) => ({ id: ids.item }) },
  "app/(kitchen)/items/actions.ts withdrawQuote": { who: "change items and prices", fields: (ids) => ({ quoteId: ids.quote, itemId: ids.item }), free: ["itemId"] },
  "app/(kitchen)/orders/actions.ts doubleOrder": { who: "plan orders", fields: (ids) => ({ order: ids.order }), plain: true },
  "app/(kitchen)/orders/actions.ts dropOrder": { who: "plan orders", fields: (ids) => ({ order: ids.order, drop: "no" }), plain: true },
  "app/(kitchen)/orders/actions.ts saveOrder": { who: "plan orders", fields: (ids, n) => ({ order: ids.order, version: "1", name: `Order ${n}`, forDay: "", "dishes.blank": "dish,covers", "dishes.0.key": "", "dishes.0.dish": "Strip steak, fries, herb butter", "dishes.0.covers": n, sureness: "", way: "table", note: "" }) },
  "app/(kitchen)/people/actions.ts invite": { who: "look after people", fields: (_, n) => ({ name: `Guest ${n}`, role: "owner" }) },
  "app/(kitchen)/people/actions.ts linkToNewPassword": { who: "look after people", fields: (ids) => ({ person: ids.person }) },
  "app/(kitchen)/people/actions.ts setStanding": { who: "look after people", fields: (ids) => ({ person: ids.person, role: "owner" }) },
  "app/(kitchen)/people/actions.ts withdrawInvitation": { who: "look after people", fields: (ids) => ({ invitation: ids.invitation }) },
  "app/(kitchen)/people/actions.ts removePerson": { who: "look after people", fields: (ids) => ({ person: ids.person }) },
  "app/(kitchen)/programs/actions.ts endKey": { who: "look after programs", fields: (ids) => ({ key: ids.program }) },
  "app/(kitchen)/programs/actions.ts makeKey": { who: "look after programs", fields: (_, n) => ({ name: `Till ${n}`, may: "write" }) },
  "app/(kitchen)/recipes/actions.ts saveRecipe": { who: "change recipes", fields: (_, n) => ({ id: `recipe-${n}`, name: `Recipe ${n}`, section: "", method: "", "yields.0": "1 qt", "yields.1": "", "yields.2": "", ...line(n) }) },
  "app/(kitchen)/recipes/actions.ts withdrawRecipe": { who: "change recipes", fields: (ids) => ({ id: ids.recipe }) },
  "app/(kitchen)/record/actions.ts undoChange": { who: "see money", fields: (ids) => ({ change: ids.change, why: "" }) },
  "app/(kitchen)/tests/actions.ts adoptTest": { who: "change tests and cuts", fields: (ids) => ({ testId: ids.test, cutId: "", adopt: ids.cut, adoptName: "", adoptPooled: "", partKey: "trimmed-striploin", repricing: "keep", joint: "keep" }) },
  "app/(kitchen)/tests/actions.ts recordTest": { who: "record a test", fields: (ids, n) => testFields(`test-${n}`, ids) },
  "app/(kitchen)/tests/actions.ts withdrawTest": { who: "change tests and cuts", fields: (ids) => ({ id: ids.test }) },
  "app/(kitchen)/lists/actions.ts keepAnswers": { who: "change items and prices", fields: (ids) => ({ list: ids.list, "answer.2": "leave" }) },
  "app/(kitchen)/lists/actions.ts keepFrom": { who: "change items and prices", fields: (ids) => ({ list: ids.list, from: "2026-12-01" }) },
  "app/(kitchen)/lists/actions.ts keepLayout": { who: "change items and prices", fields: (ids) => ({ list: ids.list, "column.code": "0", "column.price": "2", headings: "1" }) },
  "app/(kitchen)/lists/actions.ts dropList": { who: "change items and prices", fields: (ids) => ({ list: ids.list }), plain: true },
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
