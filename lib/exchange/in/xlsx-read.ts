/**
 * A workbook (.xlsx, ISO/IEC 29500) as tables of text: a zip of XML parts, found by their relationships, read one at a time as
 * they are unpacked, so that no part is ever held whole. Only what the cells hold is taken: macros, links to other files and
 * pictures are not looked at.
 */
import { type Checked, bad, good } from "@/lib/measure";
import { FILE_LIMITS, type FileRead, type TextTable } from "./read-shapes";
import { type XmlTaker, type XmlWriter, XmlRefused, plainXml, refusedXml } from "./read-xml";
import { type Zip, openZip, unpackPart } from "./read-zip";
import { unescapedText } from "./xlsx-read-cell";
import { type NumberLook, lookOf } from "./xlsx-read-date";
import { SheetReader } from "./xlsx-read-sheet";

const MOST_SHEETS = 250;
const MOST_STRINGS = 2_000_000;

/** Codes: those of `openZip`, and not-a-workbook, no-sheets, broken-xml, doctype, too-many-rows, too-many-columns, too-many-cells, empty. */
export function readXlsx(bytes: Uint8Array): Checked<FileRead> {
  const zip = openZip(bytes);
  if (!zip.ok) return zip;
  const other = otherKind(bytes, zip.value);
  if (other !== null) return bad("", "not-a-workbook", other);
  try {
    return readBook(bytes, zip.value);
  } catch (error) {
    return refusedXml(error);
  }
}

const AS_XLSX = "open it in a spreadsheet, save it as an Excel workbook (.xlsx) or as CSV, and read that.";

function otherKind(bytes: Uint8Array, zip: Zip): string | null {
  if (zip.has("xl/workbook.bin")) return `This is a binary workbook (.xlsb): ${AS_XLSX}`;
  const mime = zip.get("mimetype");
  if (mime !== undefined && mime.unpacked < 200) {
    let text = "";
    unpackPart(bytes, mime, (piece) => { text += new TextDecoder().decode(piece); });
    if (text.includes("spreadsheet")) return `This is an OpenDocument spreadsheet (.ods): ${AS_XLSX}`;
    return "This is a document, not a workbook: save its table as .xlsx or CSV and read that.";
  }
  if ([...zip.keys()].some((name) => name.startsWith("word/") || name.startsWith("ppt/"))) return "This is a document or a slide show, not a workbook: copy its table into a spreadsheet and save that as .xlsx.";
  if (!zip.has("[content_types].xml") && !zip.has("xl/workbook.xml")) return "This is a zip file, but no workbook is in it: unpack it and read the list itself.";
  return null;
}

interface SheetNamed { readonly name: string; readonly relation: string; readonly hidden: boolean }

function readBook(bytes: Uint8Array, zip: Zip): Checked<FileRead> {
  const parts = new Parts(bytes, zip);
  const workbook = parts.relations("").find((relation) => relation.type.endsWith("/officeDocument"))?.target ?? "xl/workbook.xml";
  const sheets: SheetNamed[] = [];
  let from1904 = false;
  if (!parts.read(workbook, {
    open: (name, attributes) => {
      if (name === "sheet") sheets.push({ name: attributes["name"] ?? "", relation: Object.entries(attributes).find(([key]) => key.endsWith(":id"))?.[1] ?? "", hidden: (attributes["state"] ?? "visible") !== "visible" });
      if (name === "workbookPr") from1904 = /^(?:1|true|on)$/i.test(attributes["date1904"] ?? "");
      if (sheets.length > MOST_SHEETS) throw new XmlRefused("too-many-sheets", `The workbook has more than ${MOST_SHEETS} sheets: save the one with the list by itself.`);
    },
    close: nothing, text: nothing,
  })) return bad("", "not-a-workbook", "This is a zip file, but no workbook is in it: unpack it and read the list itself.");
  const relations = parts.relations(workbook);
  const targetOf = (kind: string): string | undefined => relations.find((relation) => relation.type.endsWith(`/${kind}`))?.target;
  const looks = readLooks(parts, targetOf("styles"));
  const shared = readShared(parts, targetOf("sharedStrings"));
  let [cells, unreckoned] = [0, 0];
  const count = (): void => {
    cells += 1;
    if (cells > FILE_LIMITS.cells) throw new XmlRefused("too-many-cells", `The workbook has more than ${FILE_LIMITS.cells.toLocaleString("en-US")} filled cells: save only the sheet with the list.`);
  };
  const tables = sheets.flatMap((sheet): TextTable[] => {
    const relation = relations.find(({ id }) => id === sheet.relation);
    // Chart sheets, dialogs and sheets of macros hold no cells to read.
    if (relation === undefined || !relation.type.endsWith("/worksheet")) return [];
    const reader = new SheetReader({ name: sheet.name, shared, looks, from1904, count });
    if (!parts.read(relation.target, reader.taker)) return [];
    unreckoned += reader.unreckoned;
    return [reader.table(sheet.hidden)];
  });
  if (tables.length === 0) return bad("", "no-sheets", "The workbook holds no sheet of cells, only charts or macros: save the list as a sheet of its own.");
  if (tables.every((table) => table.rows.length === 0)) return bad("", "empty", unreckoned > 0 ? `The workbook holds only formulas without their results: ${AS_XLSX}` : "The workbook is empty: none of its sheets holds anything.");
  const hidden = tables.filter((table) => table.hidden).length;
  return good({
    kind: "table", format: "xlsx", tables, delimiter: null, encoding: null,
    said: [
      `Read as a workbook with ${tables.length === 1 ? "one sheet" : `${tables.length} sheets`}${hidden === 0 ? "" : `, ${hidden} of them hidden`}.`,
      ...(unreckoned === 0 ? [] : [`${unreckoned === 1 ? "One formula holds" : `${unreckoned} formulas hold`} no result and ${unreckoned === 1 ? "is" : "are"} read as empty; to get the figures, open the file in a spreadsheet and save it.`]),
    ].join(" "),
  });
}

const nothing = (): void => undefined;

interface Relation { readonly id: string; readonly type: string; readonly target: string }

/** The parts of the workbook, each read as XML; how they are told by their relationships (ISO/IEC 29500-2, 9). */
class Parts {
  constructor(private readonly bytes: Uint8Array, private readonly zip: Zip) {}

  /** false where there is no such part. Throws XmlRefused. */
  read(name: string, taker: XmlTaker): boolean {
    const part = this.zip.get(name.toLowerCase());
    if (part === undefined) return false;
    const xml = plainXml(taker);
    const text = new PieceDecoder(xml);
    const unpacked = unpackPart(this.bytes, part, (piece) => { text.take(piece); });
    if (!unpacked.ok) throw new XmlRefused(unpacked.problems[0]?.code ?? "broken-zip", unpacked.problems[0]?.sentence ?? "");
    text.end();
    return true;
  }

  relations(of: string): readonly Relation[] {
    const cut = of.lastIndexOf("/") + 1;
    const folder = of.slice(0, cut);
    const found: Relation[] = [];
    this.read(`${folder}_rels/${of.slice(cut)}.rels`, {
      open: (name, attributes) => {
        if (name !== "Relationship" || attributes["TargetMode"] === "External" || found.length > MOST_SHEETS * 4) return;
        found.push({ id: attributes["Id"] ?? "", type: attributes["Type"] ?? "", target: resolved(folder, attributes["Target"] ?? "") });
      },
      close: nothing, text: nothing,
    });
    return found;
  }
}

/** UTF-8 or UTF-16, as a part of a workbook may be; pieces may cut a character in two. */
class PieceDecoder {
  private decoder: TextDecoder | null = null;
  constructor(private readonly xml: XmlWriter) {}

  take(piece: Uint8Array): void {
    if (piece.length === 0) return;
    this.decoder ??= new TextDecoder(piece[0] === 0xff && piece[1] === 0xfe ? "utf-16le" : piece[0] === 0xfe && piece[1] === 0xff ? "utf-16be" : "utf-8");
    this.xml.write(this.decoder.decode(piece, { stream: true }));
  }

  end(): void {
    this.xml.write(this.decoder?.decode() ?? "");
    this.xml.end();
  }
}

function resolved(folder: string, target: string): string {
  if (target.startsWith("/")) return target.slice(1);
  const steps: string[] = [];
  for (const step of `${folder}${target}`.split("/")) {
    if (step === "..") steps.pop();
    else if (step !== "." && step !== "") steps.push(step);
  }
  return steps.join("/");
}

/** By the number of a cell's style: how a number of it looks. */
function readLooks(parts: Parts, name: string | undefined): readonly NumberLook[] {
  const codes = new Map<number, string>();
  const looks: NumberLook[] = [];
  let inCells = false;
  parts.read(name ?? "xl/styles.xml", {
    open: (element, attributes) => {
      if (element === "numFmt") codes.set(Number(attributes["numFmtId"]), attributes["formatCode"] ?? "");
      if (element === "cellXfs") inCells = true;
      if (element === "xf" && inCells) {
        const id = Number(attributes["numFmtId"] ?? "0");
        looks.push(lookOf(id, codes.get(id)));
      }
    },
    close: (element) => { if (element === "cellXfs") inCells = false; },
    text: nothing,
  });
  return looks;
}

/** The strings that cells share, rich text as plain; readings of characters (rPh) are no part of them. */
function readShared(parts: Parts, name: string | undefined): readonly string[] {
  const strings: string[] = [];
  let [now, inText, phonetic] = ["", false, false];
  parts.read(name ?? "xl/sharedStrings.xml", {
    open: (element) => {
      if (element === "si") now = "";
      if (element === "rPh") phonetic = true;
      if (element === "t") inText = !phonetic;
    },
    text: (text) => { if (inText) now += text; },
    close: (element) => {
      if (element === "t") inText = false;
      if (element === "rPh") phonetic = false;
      if (element !== "si") return;
      if (strings.length >= MOST_STRINGS) throw new XmlRefused("too-many-cells", "The workbook holds more text than a list: save only the sheet with the list.");
      strings.push(unescapedText(now));
    },
  });
  return strings;
}
