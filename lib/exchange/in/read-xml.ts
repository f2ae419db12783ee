/**
 * XML read as it comes, by saxes, with what a dealer's file never needs refused: a document type (so no entities of its own,
 * no files fetched, no "billion laughs"), elements nested without end. Problems inside are thrown as `XmlRefused` and become
 * a sentence at the edge of the room.
 */
import { SaxesParser } from "saxes";
import { type Checked, bad } from "@/lib/measure";

export class XmlRefused extends Error {
  constructor(readonly code: string, readonly sentence: string) {
    super(sentence);
  }
}

export function refusedXml(error: unknown): Checked<never> {
  if (error instanceof XmlRefused) return bad("", error.code, error.sentence);
  throw error;
}

export type XmlAttributes = Readonly<Record<string, string>>;

export interface XmlTaker {
  readonly open: (name: string, attributes: XmlAttributes) => void;
  readonly close: (name: string) => void;
  readonly text: (text: string) => void;
}

export interface XmlWriter {
  readonly write: (text: string) => void;
  readonly end: () => void;
}

const DEEPEST = 64;

/**
 * Names without their prefix, for SpreadsheetML, whose two sets of namespaces (transitional and strict) name the same
 * elements. Attributes keep their prefix ("r:id").
 */
export function plainXml(taker: XmlTaker): XmlWriter {
  const parser = new SaxesParser({ xmlns: false, position: false });
  guard(parser);
  let depth = 0;
  parser.on("opentag", (tag) => {
    depth = deeper(depth);
    taker.open(local(tag.name), tag.attributes);
  });
  parser.on("closetag", (tag) => { depth -= 1; taker.close(local(tag.name)); });
  parser.on("text", taker.text);
  parser.on("cdata", taker.text);
  return writer(parser);
}

/** Names as "{namespace}local". */
export function namedXml(taker: XmlTaker): XmlWriter {
  const parser = new SaxesParser({ xmlns: true, position: false });
  guard(parser);
  let depth = 0;
  parser.on("opentag", (tag) => {
    depth = deeper(depth);
    taker.open(`{${tag.uri}}${tag.local}`, Object.fromEntries(Object.values(tag.attributes).map((attribute) => [attribute.local, attribute.value])));
  });
  parser.on("closetag", (tag) => { depth -= 1; taker.close(`{${tag.uri}}${tag.local}`); });
  parser.on("text", taker.text);
  parser.on("cdata", taker.text);
  return writer(parser);
}

function local(name: string): string {
  const colon = name.indexOf(":");
  return colon < 0 ? name : name.slice(colon + 1);
}

function deeper(depth: number): number {
  if (depth >= DEEPEST) throw new XmlRefused("too-deep", `The XML nests more than ${DEEPEST} elements deep, which no price list or invoice does.`);
  return depth + 1;
}

/** What both kinds of parser have. */
interface Guarded {
  on(name: "doctype", handler: (doctype: string) => void): void;
  on(name: "error", handler: (error: Error) => void): void;
}

function guard(parser: Guarded): void {
  parser.on("doctype", () => { throw new XmlRefused("doctype", "The XML declares a document type (DOCTYPE), which is refused: it can pull in other files. Take that line out, or ask the dealer for the file without it."); });
  parser.on("error", (error) => { throw new XmlRefused("broken-xml", `The XML is broken: ${error.message.slice(0, 120)}`); });
}

function writer(parser: { readonly write: (text: string) => unknown; readonly close: () => unknown }): XmlWriter {
  return { write: (text) => { parser.write(text); }, end: () => { parser.close(); } };
}
