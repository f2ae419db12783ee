/** The price-by-portion chart as a workbook, for whoever may see money. */
import { refusal } from "@/lib/access";
import { priceChartWorkbook, xlsx } from "@/lib/exchange";
import { paperSize } from "@/components/paper/paper-size";
import { kitchenOfCaller } from "../../../../open-kitchen";
import { pathId } from "../../../../path-id";
import { readAsked } from "../asked";
import { chartBook, chartOf } from "../chart";

export async function GET(request: Request, { params }: { readonly params: Promise<{ readonly spec: string }> }): Promise<Response> {
  const open = await kitchenOfCaller();
  if (open === null) return say(401, "Sign in to see this chart.");
  if (!open.may("see money")) return say(403, refusal("see money"));
  const spec = open.live.book.shelves.spec.get(pathId((await params).spec));
  if (spec === undefined) return say(404, "There is no such portion in this kitchen.");
  const search = Object.fromEntries(new URL(request.url).searchParams);
  const asked = readAsked(search, spec, open.kitchen);
  if (asked.problems.length > 0) return say(400, asked.problems.map(({ sentence }) => sentence).join(" "));
  const found = chartOf(open, spec, asked);
  if (!found.ok) return say(404, found.why);
  const bytes = xlsx(priceChartWorkbook(chartBook(open, spec, found.chart, paperSize(search["paper"], open.kitchen.locale))));
  const name = `${spec.name.normalize("NFKD").replace(/[^a-zA-Z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 60) || "portion"}-by-price.xlsx`;
  return new Response(new Uint8Array(bytes), {
    headers: { "Content-Type": "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet", "Content-Disposition": `attachment; filename="${name}"` },
  });
}

function say(status: number, sentence: string): Response {
  return new Response(`${sentence}\n`, { status, headers: { "Content-Type": "text/plain; charset=utf-8" } });
}
