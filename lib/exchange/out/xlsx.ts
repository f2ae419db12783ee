/**
 * A workbook as the bytes of an .xlsx file: Office Open XML (ISO/IEC 29500, SpreadsheetML), the few parts that a sheet of
 * figures needs, zipped. Formulas are written with what they come to, so that a preview shows figures and a spreadsheet
 * reckons anew. Pure: the same workbook gives the same bytes, on any day.
 */
import { zipSync, strToU8 } from "fflate";
import type { Decimal } from "@/lib/measure";
import { safeText } from "./safe-text";
import { type Cell, type CellFormat, type CellStyle, type Sheet, type Workbook, cellName } from "./workbook";

/** What a zip can say at the earliest; it is not told when the file was made, so that it says nothing but the figures. */
const NO_DAY = "1980-01-01T12:00:00Z";
const LONGEST_TEXT = 32_767;

export function xlsx(workbook: Workbook): Uint8Array {
  const styles = new Styles();
  const names = sheetNames(workbook.sheets);
  const sheets = workbook.sheets.map((sheet) => sheetPart(sheet, workbook.paper, styles));
  const parts: Record<string, string> = {
    "[Content_Types].xml": `${HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/><Override PartName="/xl/workbook.xml" ContentType="${MAIN_TYPE}.sheet.main+xml"/><Override PartName="/xl/styles.xml" ContentType="${MAIN_TYPE}.styles+xml"/>${sheets.map((_, n) => `<Override PartName="/xl/worksheets/sheet${n + 1}.xml" ContentType="${MAIN_TYPE}.worksheet+xml"/>`).join("")}<Override PartName="/docProps/core.xml" ContentType="application/vnd.openxmlformats-package.core-properties+xml"/></Types>`,
    "_rels/.rels": `${HEAD}<Relationships xmlns="${PACKAGE}/relationships"><Relationship Id="rId1" Type="${OFFICE}/relationships/officeDocument" Target="xl/workbook.xml"/><Relationship Id="rId2" Type="${PACKAGE}/relationships/metadata/core-properties" Target="docProps/core.xml"/></Relationships>`,
    "docProps/core.xml": `${HEAD}<cp:coreProperties xmlns:cp="${PACKAGE}/metadata/core-properties" xmlns:dc="http://purl.org/dc/elements/1.1/"><dc:title>${escaped(safeText(workbook.title))}</dc:title></cp:coreProperties>`,
    "xl/workbook.xml": `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${OFFICE}/relationships"><sheets>${names.map((name, n) => `<sheet name="${escaped(name)}" sheetId="${n + 1}" r:id="rId${n + 1}"/>`).join("")}</sheets><calcPr calcId="191029" fullCalcOnLoad="1"/></workbook>`,
    "xl/_rels/workbook.xml.rels": `${HEAD}<Relationships xmlns="${PACKAGE}/relationships">${names.map((_, n) => `<Relationship Id="rId${n + 1}" Type="${OFFICE}/relationships/worksheet" Target="worksheets/sheet${n + 1}.xml"/>`).join("")}<Relationship Id="rId${names.length + 1}" Type="${OFFICE}/relationships/styles" Target="styles.xml"/></Relationships>`,
    "xl/styles.xml": styles.part(),
  };
  sheets.forEach((sheet, n) => { parts[`xl/worksheets/sheet${n + 1}.xml`] = sheet; });
  return zipSync(Object.fromEntries(Object.entries(parts).map(([name, xml]) => [name, strToU8(xml)])), { mtime: NO_DAY, level: 6 });
}

const HEAD = `<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n`;
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const MAIN_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml";
const OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
/** The numbers of the two papers in SpreadsheetML. */
const PAPERS = { letter: 1, a4: 9 } as const;

function sheetPart(sheet: Sheet, paper: Workbook["paper"], styles: Styles): string {
  const { frozen } = sheet;
  const pane = frozen === undefined ? "" : `<pane${frozen.columns > 0 ? ` xSplit="${frozen.columns}"` : ""}${frozen.rows > 0 ? ` ySplit="${frozen.rows}"` : ""} topLeftCell="${cellName(frozen.rows, frozen.columns)}" activePane="${frozen.rows > 0 && frozen.columns > 0 ? "bottomRight" : frozen.rows > 0 ? "bottomLeft" : "topRight"}" state="frozen"/>`;
  const rows = sheet.rows.map((row, at) => {
    const cells = row.map((cell, column) => (cell === null ? "" : cellXml(cell, cellName(at, column), styles))).join("");
    return cells === "" ? "" : `<row r="${at + 1}">${cells}</row>`;
  });
  return `${HEAD}<worksheet xmlns="${MAIN}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr><sheetViews><sheetView workbookViewId="0">${pane}</sheetView></sheetViews><sheetFormatPr defaultRowHeight="15"/>`
    + `<cols>${sheet.widths.map((width, n) => `<col min="${n + 1}" max="${n + 1}" width="${width}" customWidth="1"/>`).join("")}</cols>`
    + `<sheetData>${rows.join("")}</sheetData><pageMargins left="0.5" right="0.5" top="0.5" bottom="0.5" header="0.3" footer="0.3"/>`
    + `<pageSetup paperSize="${PAPERS[paper]}" orientation="${sheet.landscape === true ? "landscape" : "portrait"}" fitToWidth="1" fitToHeight="0"/></worksheet>`;
}

function cellXml(cell: Cell, name: string, styles: Styles): string {
  if (cell.kind === "day") return dayXml(cell, name, styles);
  const style = styles.of(cell.style, cell.kind === "text" ? null : cell.format);
  switch (cell.kind) {
    case "text": return `<c r="${name}" s="${style}" t="inlineStr"><is><t xml:space="preserve">${plainUnderscores(escaped(safeText(cell.text).slice(0, LONGEST_TEXT)))}</t></is></c>`;
    case "number": return `<c r="${name}" s="${style}"><v>${heldFigure(cell.value)}</v></c>`;
    case "formula": return `<c r="${name}" s="${style}"><f>${escaped(cell.formula)}</f><v>${heldFigure(cell.value)}</v></c>`;
  }
}

/** A spreadsheet counts days from the last of 1899; it takes 1900 for a leap year, so that only days from March 1900 on are sure. */
function dayXml(cell: Extract<Cell, { readonly kind: "day" }>, name: string, styles: Styles): string {
  const days = Math.round((Date.parse(`${cell.day}T00:00:00Z`) - Date.UTC(1899, 11, 30)) / 86_400_000);
  if (!(days > 60)) return cellXml({ kind: "text", text: cell.day, ...(cell.style === undefined ? {} : { style: cell.style }) }, name, styles);
  return `<c r="${name}" s="${styles.of(cell.style, "day")}"><v>${days}</v></c>`;
}

/** A spreadsheet holds about 17 digits: the figure with those, written out. */
export function heldFigure(value: Decimal): string {
  return value.toSignificantDigits(17).toFixed();
}

/** XML knows no control characters, and half of a pair of surrogates is no character. */
function escaped(text: string): string {
  return text
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g, "")
    .replace(/&/g, "&amp;").replace(/</g, "&lt;").replace(/>/g, "&gt;").replace(/"/g, "&quot;").replace(/\r/g, "&#13;");
}

/** In a cell _x0041_ stands for an A: who typed just that meant it (ISO/IEC 29500-1, ST_Xstring). */
function plainUnderscores(text: string): string {
  return text.replace(/_(?=x[0-9A-Fa-f]{4}_)/g, "_x005F_");
}

/** Names that a sheet may have, each once. */
export function sheetNames(sheets: readonly Pick<Sheet, "name">[]): readonly string[] {
  const taken = new Set<string>();
  return sheets.map(({ name }, n) => {
    const tidy = [...name.replace(/[[\]:*?/\\']/g, " ").trim()].slice(0, 28).join("").trim() || `Sheet ${n + 1}`;
    const own = taken.has(tidy.toLowerCase()) ? `${tidy} ${n + 1}` : tidy;
    taken.add(own.toLowerCase());
    return own;
  });
}

const FONTS: readonly { readonly bold: boolean; readonly size: number; readonly grey: boolean }[] = [
  { bold: false, size: 11, grey: false }, { bold: true, size: 11, grey: false }, { bold: true, size: 14, grey: false }, { bold: false, size: 10, grey: true },
];
const FONT_OF: Readonly<Record<CellStyle, number>> = { head: 1, strong: 1, input: 0, title: 2, note: 3 };
const BORDER_OF: Readonly<Partial<Record<CellStyle, number>>> = { head: 1, input: 2 };

/** The styles that the cells of a workbook have, each once, as they are met. */
class Styles {
  private readonly cells = new Map<string, number>([["plain", 0]]);
  private readonly xfs: string[] = [`<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>`];
  private readonly formats = new Map<number | "day", number>();

  of(style: CellStyle | undefined, format: CellFormat | "day" | null): number {
    const shown = format === null || format === "day" ? format : format.places;
    const key = style === undefined && format === null ? "plain" : `${style ?? ""} ${shown ?? ""}`;
    const known = this.cells.get(key);
    if (known !== undefined) return known;
    const number = this.xfs.length;
    const right = format !== null;
    this.xfs.push(`<xf numFmtId="${shown === null ? 0 : this.formatOf(shown)}" fontId="${style === undefined ? 0 : FONT_OF[style]}" fillId="0" borderId="${style === undefined ? 0 : BORDER_OF[style] ?? 0}" xfId="0" applyNumberFormat="1" applyFont="1" applyBorder="1" applyAlignment="1"><alignment vertical="bottom"${right ? ` horizontal="right"` : ""}/></xf>`);
    this.cells.set(key, number);
    return number;
  }

  private formatOf(shown: number | "day"): number {
    const known = this.formats.get(shown);
    if (known !== undefined) return known;
    // Numbers below 164 are the program's own.
    const number = 164 + this.formats.size;
    this.formats.set(shown, number);
    return number;
  }

  part(): string {
    const code = (shown: number | "day"): string => (shown === "day" ? "yyyy\\-mm\\-dd" : `#,##0${shown === 0 ? "" : `.${"0".repeat(shown)}`}`);
    const line = (side: string, style: string): string => `<${side} style="${style}"><color auto="1"/></${side}>`;
    return `${HEAD}<styleSheet xmlns="${MAIN}">`
      + (this.formats.size === 0 ? "" : `<numFmts count="${this.formats.size}">${[...this.formats].map(([shown, id]) => `<numFmt numFmtId="${id}" formatCode="${code(shown)}"/>`).join("")}</numFmts>`)
      + `<fonts count="${FONTS.length}">${FONTS.map(({ bold, size, grey }) => `<font>${bold ? "<b/>" : ""}<sz val="${size}"/>${grey ? `<color rgb="FF555555"/>` : ""}<name val="Calibri"/><family val="2"/></font>`).join("")}</fonts>`
      + `<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>`
      + `<borders count="3"><border><left/><right/><top/><bottom/><diagonal/></border><border><left/><right/><top/>${line("bottom", "thin")}<diagonal/></border><border>${["left", "right", "top", "bottom"].map((side) => line(side, "thin")).join("")}<diagonal/></border></borders>`
      + `<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs><cellXfs count="${this.xfs.length}">${this.xfs.join("")}</cellXfs>`
      + `<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>`;
  }
}
