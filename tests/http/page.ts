/**
 * What a browser without a script makes of a page: its words, and its forms with everything they would send. Reads the
 * HTML that React writes (every element closed, attributes quoted) and no other; a parser for the whole web is not
 * needed to test our own pages.
 */

/** A field as the page gave it. `sends` is what it would send if nobody touched it: nothing for a box that is not ticked. */
export interface Control {
  readonly name: string;
  readonly id: string;
  /** The element's name, or the type of an input: "text", "hidden", "checkbox", "select", "textarea", … */
  readonly type: string;
  readonly sends: readonly string[];
}

/** A button that sends its form, with its words and what it adds. */
export interface SubmitButton {
  readonly label: string;
  readonly name: string;
  readonly value: string;
}

export interface PageForm {
  readonly id: string;
  readonly method: "GET" | "POST";
  /** As written; "" is the page itself. */
  readonly action: string;
  readonly multipart: boolean;
  readonly controls: readonly Control[];
  /** In the order of the page; the first is what Enter presses. */
  readonly buttons: readonly SubmitButton[];
  /** Every id in it, its own and those of its elements. */
  readonly ids: ReadonlySet<string>;
}

const ENTITIES: Readonly<Record<string, string>> = { amp: "&", lt: "<", gt: ">", quot: '"', apos: "'", nbsp: "\u00a0" };

export function unescapeHtml(text: string): string {
  return text.replace(/&(?:#x([0-9a-f]+)|#(\d+)|(\w+));/gi, (whole, hex?: string, decimal?: string, name?: string) => {
    if (name !== undefined) return ENTITIES[name] ?? whole;
    return String.fromCodePoint(hex === undefined ? Number(decimal) : Number.parseInt(hex, 16));
  });
}

type Attributes = Readonly<Record<string, string>>;
type Token =
  | { readonly is: "text"; readonly text: string }
  | { readonly is: "open" | "close"; readonly tag: string; readonly attributes: Attributes };

/** Scripts, styles and comments fall out; so do the comments that React puts between two pieces of one text. */
function* tokensOf(html: string): Generator<Token> {
  const piece = /<!--[\s\S]*?-->|<!doctype[^>]*>|<(script|style)\b[\s\S]*?<\/\1>|<(\/?)([a-z][a-z0-9-]*)((?:"[^"]*"|[^">])*)>|[^<]+|</gi;
  for (const match of html.matchAll(piece)) {
    const [whole, , slash, tag, rest = ""] = match;
    if (tag !== undefined) yield { is: slash === "/" ? "close" : "open", tag: tag.toLowerCase(), attributes: attributesOf(rest) };
    else if (!whole.startsWith("<") || whole === "<") yield { is: "text", text: unescapeHtml(whole) };
  }
}

function attributesOf(text: string): Attributes {
  const attributes: Record<string, string> = {};
  for (const [, name = "", value = ""] of text.matchAll(/([^\s"'=/]+)(?:="([^"]*)")?/g)) attributes[name.toLowerCase()] = unescapeHtml(value);
  return attributes;
}

/** Elements within a line: every other begins a new one. */
const INLINE = new Set(["a", "abbr", "b", "button", "code", "data", "dfn", "em", "i", "label", "output", "q", "small", "span", "strong", "sub", "sup", "time", "u"]);

/** The words of the page, one line a block, without what stands in fields. */
export function textOf(html: string): string {
  let text = "";
  let apart = 0;
  for (const token of tokensOf(html)) {
    const inApart = token.is !== "text" && (token.tag === "select" || token.tag === "textarea" || token.tag === "head" || token.tag === "datalist");
    if (inApart) apart += token.is === "open" ? 1 : -1;
    else if (token.is === "text") text += apart > 0 ? "" : token.text.replace(/\s+/g, " ");
    else if (!INLINE.has(token.tag)) text += "\n";
  }
  return text.replace(/ *\n[ \n]*/g, "\n").trim();
}

interface OpenForm {
  form: Omit<PageForm, "controls" | "buttons" | "ids">;
  controls: Control[];
  buttons: SubmitButton[];
  ids: Set<string>;
}

export function formsOf(html: string): readonly PageForm[] {
  const forms: OpenForm[] = [];
  let current: OpenForm | null = null;
  let select: { attributes: Attributes; first: string | null; chosen: string[] } | null = null;
  let option: { attributes: Attributes; text: string } | null = null;
  let textarea: { attributes: Attributes; text: string } | null = null;
  let button: { attributes: Attributes; text: string } | null = null;

  const owner = (attributes: Attributes): OpenForm | null => (attributes["form"] === undefined ? current : forms.find(({ form }) => form.id === attributes["form"]) ?? null);
  const add = (attributes: Attributes, type: string, sends: readonly string[]): void => {
    const name = attributes["name"] ?? "";
    if (name !== "" && attributes["disabled"] === undefined) owner(attributes)?.controls.push({ name, id: attributes["id"] ?? "", type, sends });
  };
  const addButton = (attributes: Attributes, label: string): void => {
    if ((attributes["type"] ?? "submit") !== "submit" || attributes["disabled"] !== undefined) return;
    owner(attributes)?.buttons.push({ label: label.replace(/\s+/g, " ").trim(), name: attributes["name"] ?? "", value: attributes["value"] ?? "" });
  };

  for (const token of tokensOf(html)) {
    if (token.is === "text") {
      for (const place of [option, textarea, button]) if (place !== null) place.text += token.text;
      continue;
    }
    const { tag, attributes } = token;
    if (token.is === "open") {
      if (attributes["id"] !== undefined) current?.ids.add(attributes["id"]);
      if (tag === "form") {
        const multipart = (attributes["enctype"] ?? "").toLowerCase() === "multipart/form-data";
        const method = (attributes["method"] ?? "GET").toUpperCase() === "POST" ? "POST" : "GET";
        current = { form: { id: attributes["id"] ?? "", method, action: attributes["action"] ?? "", multipart }, controls: [], buttons: [], ids: new Set([attributes["id"] ?? ""]) };
        forms.push(current);
      } else if (tag === "input") addInput(attributes, add, addButton);
      else if (tag === "select") select = { attributes, first: null, chosen: [] };
      else if (tag === "option") option = { attributes, text: "" };
      else if (tag === "textarea") textarea = { attributes, text: "" };
      else if (tag === "button") button = { attributes, text: "" };
      continue;
    }
    if (tag === "form") current = null;
    else if (tag === "option" && option !== null) {
      const value: string = option.attributes["value"] ?? option.text.trim();
      if (select !== null) {
        select.first ??= value;
        if (option.attributes["selected"] !== undefined) select.chosen.push(value);
      }
      option = null;
    } else if (tag === "select" && select !== null) {
      const { attributes: own, first, chosen } = select;
      add(own, "select", chosen.length > 0 || own["multiple"] !== undefined ? chosen : first === null ? [] : [first]);
      select = null;
    } else if (tag === "textarea" && textarea !== null) {
      add(textarea.attributes, "textarea", [textarea.text.replace(/^\n/, "")]);
      textarea = null;
    } else if (tag === "button" && button !== null) {
      addButton(button.attributes, button.text);
      button = null;
    }
  }
  return forms.map(({ form, ...rest }) => ({ ...form, ...rest }));
}

function addInput(
  attributes: Attributes, add: (attributes: Attributes, type: string, sends: readonly string[]) => void, addButton: (attributes: Attributes, label: string) => void,
): void {
  const type = (attributes["type"] ?? "text").toLowerCase();
  if (type === "submit") addButton(attributes, attributes["value"] ?? "");
  else if (type === "checkbox" || type === "radio") add(attributes, type, attributes["checked"] === undefined ? [] : [attributes["value"] ?? "on"]);
  else if (type !== "button" && type !== "reset" && type !== "image") add(attributes, type, type === "file" ? [] : [attributes["value"] ?? ""]);
}
