/** The ways into the built app, as its own manifests list them, and how to take one over HTTP. */
import fs from "node:fs";
import path from "node:path";
import { type Page, Visitor } from "../http/client";
import { ACTIONS, type Fields, type Ids, PATHS, PROGRAMS, type Who } from "./doors";
import type { Person } from "./house";

const built = (file: string): unknown => JSON.parse(fs.readFileSync(path.join(".next", file), "utf8"));

/** Paths that the framework adds by itself. */
const FRAMEWORKS = new Set(["/_not-found", "/_global-error"]);

export function builtPaths(): readonly string[] {
  return Object.values(built("app-path-routes-manifest.json") as Record<string, string>).filter((one) => !FRAMEWORKS.has(one)).sort();
}

interface Reference {
  readonly filename: string;
  readonly exportedName: string;
  /** By the page that has the action. */
  readonly workers: Readonly<Record<string, unknown>>;
}

/** Actions by file and export name, each with its id and a page it can be sent to. */
export function builtActions(): ReadonlyMap<string, { readonly id: string; readonly page: string }> {
  const { node, edge } = built("server/server-reference-manifest.json") as { readonly node: Readonly<Record<string, Reference>>; readonly edge: Readonly<Record<string, Reference>> };
  return new Map([...Object.entries(node), ...Object.entries(edge)].map(([id, { filename, exportedName, workers }]) => {
    const page = Object.keys(workers).sort((a, b) => a.length - b.length)[0];
    if (page === undefined) throw new Error(`expected a page for ${filename} ${exportedName}`);
    return [`${filename} ${exportedName}`, { id, page: page.replace(/^app/, "").replace(/\/page$/, "").replaceAll(/\/\([^/]*\)/g, "") }];
  }));
}

/** Every `export async function` of a "use server" file under `folder`, by file and name. */
export function writtenActions(folder: string): readonly string[] {
  return fs.readdirSync(folder, { recursive: true, encoding: "utf8" }).filter((file) => /\.tsx?$/.test(file)).map((file) => path.join(folder, file)).flatMap((file) => {
    const text = fs.readFileSync(file, "utf8");
    return /^"use server";$/m.test(text) ? [...text.matchAll(/^export (?:async )?(?:function|const) (\w+)/gm)].map(([, name]) => `${file} ${name ?? ""}`) : [];
  }).sort();
}

const KINDS = ["dish", "recipe", "item", "cut", "spec"] as const;

/** A path with ids of a kitchen in it: one address, or one for each kind of figure. */
export function fill(template: string, ids: Ids, token = "made-up"): readonly string[] {
  const words: Readonly<Record<string, string>> = { item: ids.item, product: ids.product, cut: ids.cut, spec: ids.spec, recipe: ids.recipe, dish: ids.dish, test: ids.test, change: ids.change, sheet: ids.sheet, photo: ids.photo, try: ids.tryout, changeNo: ids.change, what: `cost-sheet?of=${encodeURIComponent(ids.recipe)}`, order: ids.order, list: ids.list, delivery: ids.delivery, dealer: ids.dealer, token };
  if (template.includes("[kind]")) return KINDS.map((kind) => template.replace("[kind]", kind).replace("[id]", ids[kind]));
  return [template.replaceAll(/\[(\w+)\]/g, (_, word: string) => {
    const filled = words[word];
    if (filled === undefined) throw new Error(`expected to know what [${word}] stands for in ${template}`);
    return filled;
  })];
}

/** An address to open, with who may. */
export interface Way {
  readonly at: string;
  readonly who: Who;
  /** It names something of a kitchen by its id. */
  readonly ofKitchen: boolean;
  /** For a route that answers programs: what it is sent. */
  readonly program?: ReturnType<NonNullable<(typeof PROGRAMS)[string]>>;
}

/** Every page and route with ids of one kitchen. A route that says who may by a status is asked as the program would ask it. */
export function waysWith(ids: Ids): readonly Way[] {
  return [
    ...Object.entries(PATHS).flatMap(([template, who]) => fill(template, ids).map((at): Way => ({ at, who, ofKitchen: /\[(?!token)/.test(template), ...(PROGRAMS[template] === undefined ? {} : { program: PROGRAMS[template](ids) }) }))),
    { at: `/tests/${ids.testReliedOn}`, who: "read the book", ofKitchen: true },
    { at: `/tests/${ids.testReliedOn}/edit`, who: "change tests and cuts", ofKitchen: true },
    { at: `/items/${ids.item}/edit?quote=${ids.quote}`, who: "change items and prices", ofKitchen: true },
    { at: `/figure/cut/${ids.cut}?on=2026-03-02`, who: "see money", ofKitchen: true },
  ];
}

export class Walker {
  readonly #visitor: Visitor;

  constructor(url: string, readonly person: Person, more: string = "") {
    const cookie = [person.cookie, more].filter((one) => one !== "").join("; ");
    this.#visitor = new Visitor(url, { patience: 120_000, headers: cookie === "" ? {} : { cookie } });
  }

  /** Takes a way: sends what is to be sent there, else opens it. */
  take(way: Way, as: "page" | "link" | "prefetch" = "page"): Promise<Page> {
    return way.program === undefined ? this.open(way.at, as) : this.#visitor.request(way.at, { ...way.program, follow: false });
  }

  /** Opens an address: the whole page, or what the router asks for when a link is followed or only near. */
  open(at: string, as: "page" | "link" | "prefetch" = "page"): Promise<Page> {
    const headers: Record<string, string> = as === "page" ? {} : { rsc: "1", accept: "text/x-component", ...(as === "prefetch" ? { "next-router-prefetch": "1" } : {}) };
    return this.#visitor.request(at, { headers, follow: false });
  }

  /** Sends an action as the browser's script does, with a state and a form. */
  send(action: string, fields: Fields, ids: Ids): Promise<Page> {
    const way = builtActions().get(action);
    if (way === undefined) throw new Error(`expected the built app to have ${action}`);
    const body = new FormData();
    const plain = ACTIONS[action]?.plain === true;
    for (const [name, value] of Object.entries(fields)) body.append(`_1_${name}`, value);
    body.append("0", JSON.stringify(plain ? ["$K1"] : [{ status: "editing", problems: [], values: {}, told: null, link: null }, "$K1"]));
    const [at = "/"] = fill(way.page === "" ? "/" : way.page, ids);
    return this.#visitor.request(at, { method: "POST", body, headers: { "next-action": way.id, accept: "text/x-component" }, follow: false });
  }

  /** As `send`, to be recorded. */
  record(action: string, ids: Ids, n: string): Promise<Page> {
    const door = ACTIONS[action];
    if (door === undefined) throw new Error(`expected ${action} in the table`);
    return this.send(action, { ...door.fields(ids, n), intent: "record" }, ids);
  }
}

/** What an answer comes to: "200", "403", "→ /sign-in". */
export function outcome({ status, headers }: Page): string {
  const to = headers.get("x-action-redirect")?.split(";")[0] ?? headers.get("location");
  if (to === null || to === undefined) return String(status);
  const place = new URL(to, "http://here");
  return `→ ${place.pathname}${place.search}`;
}
