/** Portions by price: what each size costs at prices in steps around today’s, on the screen, on paper, and as a workbook that reckons. */
import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { moneyPlaces, ratio } from "@/lib/measure";
import { Button, FormFrame, MoneyField, NumberField, TextField } from "@/components/form";
import { PrintBar } from "@/components/paper/PrintBar";
import { paperSize } from "@/components/paper/paper-size";
import { PageTop } from "@/components/sheet/PageTop";
import { Told } from "@/components/sheet/Told";
import { PriceChartPaper } from "@/components/spec/PriceChartPaper";
import { openKitchen } from "../../../open-kitchen";
import { pathId } from "../../../path-id";
import { readAsked } from "./asked";
import { chartOf, chartView } from "./chart";

export const metadata: Metadata = { title: "Portions by price" };

export default async function PricesPage({ params, searchParams }: { readonly params: Promise<{ readonly spec: string }>; readonly searchParams: Promise<Readonly<Record<string, string | readonly string[] | undefined>>> }) {
  const id = pathId((await params).spec);
  const open = await openKitchen("see money");
  const { live, kitchen } = open;
  const spec = live.book.shelves.spec.get(id);
  const cut = spec && live.book.shelves.cut.get(spec.cutId);
  if (!spec || !cut) notFound();
  const search = await searchParams;
  const asked = readAsked(search, spec, kitchen);
  const paper = paperSize(search["paper"], kitchen.locale);
  const address = `/specs/${encodeURIComponent(id)}`;
  const found = chartOf(open, spec, asked);
  const query = (more: Readonly<Record<string, string>>): string => new URLSearchParams([...new URLSearchParams(asked.query), ...Object.entries(more)]).toString();
  const places = moneyPlaces(kitchen.currency);
  return (
    <>
      <div className="no-print">
        <PageTop title={`${spec.name} by price and size`} trail={[{ name: "Cuts", href: "/cuts" }, { name: cut.name, href: `/cuts/${encodeURIComponent(cut.id)}` }, { name: spec.name, href: address }]}
          of={found.ok ? `${found.chart.prices.length} prices of ${found.chart.itemName}, ${found.chart.sizes.length} sizes` : undefined}
          answer={found.ok ? chartView(open, spec, found.chart).says[0] : found.why} />
        {asked.problems.length > 0 && <Told adverse>{asked.problems.map((problem, at) => <p key={at}>{problem.sentence}</p>)}<p>The chart below stands as usual until that is right.</p></Told>}
        <form className="form" action={`${address}/prices`} method="get" key={asked.query}>
          <FormFrame id="chart" values={{ ...asked.values, step: asked.values["step"] === "" && found.ok ? ratio.toDecimal(found.chart.step).toFixed(Math.max(places, ratio.toDecimal(found.chart.step).decimalPlaces())) : asked.values["step"] ?? "" }} problems={asked.problems}>
            {search["paper"] !== undefined && <input type="hidden" name="paper" value={paper} />}
            <div className="fields">
              <MoneyField name="step" label="Step between prices" />
              <NumberField name="rows" label="How many prices" hint="3 to 31" />
              <TextField name="sizes" label="Sizes" hint="One after the other, with ; between them" wide />
            </div>
            <div className="send"><Button type="submit" plain>Show the chart</Button></div>
          </FormFrame>
        </form>
        {found.ok && (
          <div className="chart-do">
            <PrintBar paper={paper} href={(one) => `${address}/prices?${query({ paper: one })}`} />
            <p><a href={`${address}/prices/sheet?${query({ paper })}`} download>As a spreadsheet</a>, with formulas that reckon: change a price in it, and every portion follows.</p>
          </div>
        )}
      </div>
      {found.ok && <PriceChartPaper view={chartView(open, spec, found.chart)} paper={paper} />}
    </>
  );
}
