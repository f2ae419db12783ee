/**
 * How a route hands out a sheet: as CSV or as a workbook, under a name that says what it is, of which kitchen and of which
 * day. Server only.
 *
 *     export async function GET(request: Request): Promise<Response> {
 *       return kitchenSheet(request, "see money", (open) => ({ name: "items", workbook: listWorkbook(…) }));
 *     }
 */
import { type Deed, refusal } from "@/lib/access";
import { type Workbook, csvOf, xlsx } from "@/lib/exchange";
import { type OpenKitchen, kitchenOfCaller } from "./open-kitchen";

export const SHEET_FORMS = ["csv", "xlsx"] as const;
export type SheetForm = (typeof SHEET_FORMS)[number];

const TYPES: Readonly<Record<SheetForm, string>> = { csv: "text/csv; charset=utf-8", xlsx: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet" };

/** What is handed out. `name` is put into the file's name: "items", "Strip steak 10 oz by price". CSV has the first sheet. */
export interface SheetToGive {
  readonly name: string;
  readonly workbook: Workbook;
}

/**
 * Answers a sheet of the caller's open kitchen for whoever may do `deed` there: `?as=csv` or `?as=xlsx` (where nothing is
 * asked, a workbook). `make` may answer by itself where there is nothing to hand out (`saySheet`).
 */
export async function kitchenSheet(
  request: Request, deed: Deed, make: (open: OpenKitchen, search: Readonly<Record<string, string>>) => SheetToGive | Response | Promise<SheetToGive | Response>,
): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return saySheet(401, "Sign in to take this away.");
  if (!open.may(deed)) return saySheet(403, refusal(deed));
  const search = Object.fromEntries(new URL(request.url).searchParams);
  const as = SHEET_FORMS.find((form) => form === (search["as"] ?? "xlsx"));
  if (as === undefined) return saySheet(400, "Say how it is to be handed out: ?as=csv or ?as=xlsx.");
  const made = await make(open, search);
  return made instanceof Response ? made : sheetAnswer(made, as, open);
}

export function sheetAnswer({ name, workbook }: SheetToGive, as: SheetForm, { kitchen, live }: Pick<OpenKitchen, "kitchen" | "live">): Response {
  const [first] = workbook.sheets;
  if (first === undefined) throw new Error("expected a workbook to have a sheet");
  const body = as === "csv" ? csvOf(first, kitchen) : new Uint8Array(xlsx(workbook));
  return new Response(body, { headers: { "Content-Type": TYPES[as], "Content-Disposition": attachment(`${name} ${kitchen.name} ${live.today}`, as) } });
}

/** A refusal in a sentence. */
export function saySheet(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}

/**
 * The header under which a file is kept: a plain name that every system takes, and the same with its own letters for those
 * that read it (RFC 6266).
 */
export function attachment(name: string, ending: string): string {
  const tidy = (text: string, kept: RegExp): string => text.replace(kept, "-").replace(/-{2,}/g, "-").replace(/^-+|-+$/g, "");
  const plain = tidy(name.normalize("NFKD").replace(/[\u0300-\u036f]/g, ""), /[^a-zA-Z0-9]+/g).toLowerCase().slice(0, 100) || "trimledger";
  const own = tidy([...name.normalize("NFC").toLowerCase()].slice(0, 100).join(""), /[^\p{L}\p{N}\p{M}]+/gu);
  const encoded = encodeURIComponent(`${own || "trimledger"}.${ending}`).replace(/['()*]/g, (mark) => `%${mark.charCodeAt(0).toString(16).toUpperCase()}`);
  return `attachment; filename="${plain}.${ending}"; filename*=UTF-8''${encoded}`;
}
