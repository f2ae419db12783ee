/** A list of the book, or a sheet of one thing, as CSV or XLSX, for whoever may see money: /out/items?as=csv. */
import { paperSize } from "@/components/paper/paper-size";
import { kitchenSheet, saySheet } from "../../sheet-answer";
import { type Asked, LISTS, SHEETS } from "../out-lists";

export async function GET(request: Request, { params }: { readonly params: Promise<{ readonly what: string }> }): Promise<Response> {
  const { what } = await params;
  const list = LISTS.flatMap(({ lists }) => lists).find((one) => one.what === what);
  const sheet = SHEETS.find((one) => one.what === what);
  return kitchenSheet(request, "see money", async (open, search) => {
    const asked: Asked = { paper: paperSize(search["paper"], open.kitchen.locale), search };
    if (sheet !== undefined) return sheet.make(open, asked);
    if (list === undefined) return saySheet(404, "There is no such list. The page “Files” tells those that there are.");
    const workbook = await list.workbook(open, asked);
    return workbook instanceof Response ? workbook : { name: list.title, workbook };
  });
}
