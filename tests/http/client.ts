/**
 * Somebody at the app without a browser: opens pages and sends their forms over HTTP, as a browser without a script
 * does, with a cookie jar of their own. A form's server action travels in hidden fields that React put into it
 * ($ACTION_…), so what is driven here is exactly what people's saves go through. Durability, load and route tests use it.
 *
 *   const chef = new Visitor("http://127.0.0.1:3000");
 *   await chef.act("/start", { writer: "Chef" }, { button: "Open the demo kitchen" });
 *   const told = await chef.act("/items/butter", { price: "4.75" }, { button: "Record this price" });
 *   told.status; told.text.includes("Recorded as change 2."); told.ms;
 *
 * `act` opens the page and sends a form of it; `send` sends a form of a page that was opened before, which is how a
 * save comes to be stale. Redirects are followed. Signing in is a form like any other: what its answer sets stays in
 * the jar, and `new Visitor(origin, { jar: chef.jar.copy() })` is the same person in another window. A server that
 * does not answer, or not to the end, throws `Unanswered`: whether it did what was asked is not known.
 */
import { type PageForm, type SubmitButton, formsOf, textOf } from "./page";

/** The request found no server, or its answer broke off, or took too long. */
export class Unanswered extends Error {
  override readonly name = "Unanswered";
}

/** One site's cookies. Expiry is minded; path and domain are not, since the app is all there is. */
export class Jar {
  readonly #cookies = new Map<string, { value: string; until: number }>();

  /** Takes one Set-Cookie header. */
  take(header: string): void {
    const [pair = "", ...rest] = header.split(";");
    const at = pair.indexOf("=");
    const attributes = new Map(rest.map((part) => {
      const [name = "", value = ""] = part.trim().split(/=(.*)/s);
      return [name.toLowerCase(), value];
    }));
    const age = attributes.get("max-age");
    const expires = attributes.get("expires");
    const until = age !== undefined ? Date.now() + Number(age) * 1000 : expires !== undefined ? Date.parse(expires) : Number.POSITIVE_INFINITY;
    this.set(pair.slice(0, at).trim(), pair.slice(at + 1).trim(), until);
  }

  /** Puts a cookie in by hand; `until` in milliseconds since 1970. One that is over is taken out. */
  set(name: string, value: string, until = Number.POSITIVE_INFINITY): void {
    if (until <= Date.now()) this.#cookies.delete(name);
    else this.#cookies.set(name, { value, until });
  }

  get(name: string): string | undefined {
    const cookie = this.#cookies.get(name);
    return cookie === undefined || cookie.until <= Date.now() ? undefined : cookie.value;
  }

  /** The Cookie header; "" when there is nothing to send. */
  header(): string {
    return [...this.#cookies].filter(([, { until }]) => until > Date.now()).map(([name, { value }]) => `${name}=${value}`).join("; ");
  }

  copy(): Jar {
    const copy = new Jar();
    for (const [name, { value, until }] of this.#cookies) copy.set(name, value, until);
    return copy;
  }
}

/** A page as it came back, after redirects. */
export interface Page {
  readonly status: number;
  /** Path and query where we ended up. */
  readonly path: string;
  /** Every answer on the way, the last one included: "303 /items/butter" and so on. */
  readonly steps: readonly string[];
  readonly headers: Headers;
  readonly body: string;
  /** The words on it, without markup: one line a block. */
  readonly text: string;
  readonly forms: readonly PageForm[];
  /** From asking until the last byte of the last answer, in milliseconds. */
  readonly ms: number;
}

/** A field's value: one text, several (a list of ticked boxes), a file, or null for a field that is to be left out. */
export type FieldValue = string | readonly string[] | Blob | null;
export type Fields = Readonly<Record<string, FieldValue>>;

/** Which form of the page, and which of its buttons. What is not said is not minded; the first that fits is taken. */
export interface WhichForm {
  /** The button's words, or its value ("record"). Without it, the form's first button: what Enter presses. */
  readonly button?: string | RegExp;
  /** What the button is to say in the place of its own value: "sure", for who would be asked whether a price is right. */
  readonly says?: string;
  /** The form's id, or the id of anything in it. */
  readonly form?: string;
  /** Fields that the form as it came does not have: what a script would have added, or somebody malicious. */
  readonly more?: Fields;
  /** Whether to follow a redirect (default). */
  readonly follow?: boolean;
}

export interface VisitorOptions {
  readonly jar?: Jar;
  /** How long to wait for a whole answer, in milliseconds. */
  readonly patience?: number;
  /** Sent with every request. */
  readonly headers?: Readonly<Record<string, string>>;
}

export interface Request {
  readonly method?: string;
  readonly body?: FormData | URLSearchParams | string;
  readonly headers?: Readonly<Record<string, string>>;
  readonly follow?: boolean;
}

const MOST_REDIRECTS = 10;

export class Visitor {
  readonly jar: Jar;
  readonly #origin: string;
  readonly #patience: number;
  readonly #headers: Readonly<Record<string, string>>;

  /** `origin` is the app's address: "http://127.0.0.1:3000". */
  constructor(origin: string, { jar = new Jar(), patience = 30_000, headers = {} }: VisitorOptions = {}) {
    this.#origin = new URL(origin).origin;
    this.jar = jar;
    this.#patience = patience;
    this.#headers = headers;
  }

  /** Opens a page. Any status is an answer: look at `status`. */
  open(path: string, { follow = true }: { readonly follow?: boolean } = {}): Promise<Page> {
    return this.request(path, { follow });
  }

  /** Opens a page and sends one of its forms, with these fields filled in and the others as they came. */
  async act(path: string, fields: Fields, which: WhichForm = {}): Promise<Page> {
    return this.send(await this.open(path), fields, which);
  }

  /** Sends a form of a page that is open. Throws when there is no such form, button or field: the test is wrong, or the page. */
  send(page: Page, fields: Fields, which: WhichForm = {}): Promise<Page> {
    const { form, button } = choose(page, which);
    const entries = fill(page, form, fields, which.more ?? {});
    if (button !== undefined && button.name !== "") entries.push([button.name, which.says ?? button.value]);
    const place = new URL(form.action === "" ? page.path : form.action, new URL(page.path, this.#origin));
    const follow = which.follow ?? true;
    if (form.method === "GET") {
      place.search = new URLSearchParams(entries.filter((entry): entry is [string, string] => typeof entry[1] === "string")).toString();
      return this.request(place.pathname + place.search, { follow });
    }
    const body = form.multipart ? new FormData() : new URLSearchParams();
    for (const [name, value] of entries) {
      if (body instanceof FormData) body.append(name, value);
      else body.append(name, typeof value === "string" ? value : "");
    }
    return this.request(place.pathname + place.search, { method: "POST", body, follow });
  }

  /** One request as it is, with the jar and our origin: for addresses that are not pages. */
  async request(path: string, { method = "GET", body, headers = {}, follow = true }: Request = {}): Promise<Page> {
    const began = performance.now();
    const patience = AbortSignal.timeout(this.#patience);
    const steps: string[] = [];
    let place = new URL(path, this.#origin);
    let asked: { method: string; body: Request["body"]; headers: Readonly<Record<string, string>> } = { method, body, headers };
    for (;;) {
      const answer = await this.#once(place, asked, patience);
      steps.push(`${answer.status} ${place.pathname}${place.search}`);
      const location = answer.headers.get("location");
      if (location !== null && answer.status >= 300 && answer.status < 400 && follow) {
        if (steps.length > MOST_REDIRECTS) throw new Error(`Redirected without end: ${steps.join(", ")}.`);
        place = new URL(location, place);
        if (place.origin !== this.#origin) throw new Error(`Redirected away from the app, to ${place.href}.`);
        if (answer.status < 307) asked = { method: "GET", body: undefined, headers: {} };
        continue;
      }
      const { status, headers: got, text: body } = answer;
      const isHtml = got.get("content-type")?.startsWith("text/html") === true;
      // Read when somebody looks: fifty people at once would spend more on reading their pages than the app on making them.
      let text: string | undefined;
      let forms: readonly PageForm[] | undefined;
      return {
        status, headers: got, body, steps, path: place.pathname + place.search, ms: performance.now() - began,
        get text() { return text ??= isHtml ? textOf(body) : body; },
        get forms() { return forms ??= isHtml ? formsOf(body) : []; },
      };
    }
  }

  async #once(place: URL, { method, body, headers }: { method: string; body: Request["body"]; headers: Readonly<Record<string, string>> }, signal: AbortSignal): Promise<{ status: number; headers: Headers; text: string }> {
    const cookie = this.jar.header();
    const sent = {
      accept: "text/html,application/xhtml+xml",
      ...(cookie === "" ? {} : { cookie }),
      // The framework takes an action only from its own pages, and knows them by this.
      ...(method === "GET" ? {} : { origin: this.#origin }),
      ...this.#headers, ...headers,
    };
    try {
      const answer = await fetch(place, { method, headers: sent, redirect: "manual", signal, ...(body === undefined ? {} : { body }) });
      for (const header of answer.headers.getSetCookie()) this.jar.take(header);
      return { status: answer.status, headers: answer.headers, text: await answer.text() };
    } catch (error) {
      throw new Unanswered(`${method} ${place.pathname} got no whole answer: ${reason(error)}`, { cause: error });
    }
  }
}

function reason(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  return error.cause instanceof Error ? error.cause.message || error.cause.name : error.message;
}

function choose(page: Page, { button, form: id }: WhichForm): { readonly form: PageForm; readonly button: SubmitButton | undefined } {
  for (const form of page.forms) {
    if (id !== undefined && !form.ids.has(id)) continue;
    if (button === undefined) return { form, button: form.buttons[0] };
    // The last that fits: a form may begin with an unseen twin of a button, for Enter.
    const found = form.buttons.findLast(({ label, value }) => (typeof button === "string" ? label === button || value === button : button.test(label)));
    if (found !== undefined) return { form, button: found };
  }
  const there = page.forms.map((form) => `[${form.buttons.map(({ label }) => label).join(" | ")}]`).join(" ") || "none";
  const wanted = [button === undefined ? "" : ` with a button "${String(button)}"`, id === undefined ? "" : ` with the id "${id}"`].join("");
  throw new Error(`There is no form${wanted} on ${page.path} (status ${page.status}). Its forms, by their buttons: ${there}.\n${page.text.slice(0, 600)}`);
}

/** What the form sends: each field as filled in, else as it came; fields of one name stand together, as in the page. */
function fill(page: Page, form: PageForm, fields: Fields, more: Fields): [string, string | Blob][] {
  const known = new Set(form.controls.map(({ name }) => name));
  const strange = Object.keys(fields).filter((name) => !known.has(name));
  if (strange.length > 0) {
    const there = [...known].filter((name) => !name.startsWith("$")).join(", ");
    throw new Error(`The form on ${page.path} has no field "${strange.join('", "')}". It has ${there}. What a script would add goes into \`more\`.`);
  }
  const entries: [string, string | Blob][] = [];
  const filled = new Set<string>();
  for (const { name, sends } of form.controls) {
    const value = fields[name];
    if (value === undefined) entries.push(...sends.map((text): [string, string] => [name, text]));
    else if (!filled.has(name)) entries.push(...listed(name, value));
    filled.add(name);
  }
  for (const [name, value] of Object.entries(more)) entries.push(...listed(name, value));
  return entries;
}

function listed(name: string, value: FieldValue): [string, string | Blob][] {
  if (value === null) return [];
  if (typeof value === "string" || value instanceof Blob) return [[name, value]];
  return value.map((text) => [name, text]);
}
