/** What portions weighed at the pass give away, or whether they break what was promised. */
import type { FactOf, PortionSpec } from "@/lib/book";
import { type Ratio, printDay, printMoney, printShare, quantityText, ratio } from "@/lib/measure";
import { giveaway, usualTolerance, weightIn } from "@/lib/yield";
import { Term } from "@/components/glossary/Term";
import { Told } from "@/components/sheet/Told";

export function GivenAway({ spec, C, kitchen }: { readonly spec: PortionSpec; readonly C: Ratio | null; readonly kitchen: FactOf["kitchen"] }) {
  if (spec.meanCut === null) {
    return <p className="quiet">No portion of it was weighed at the pass yet, so nobody knows whether {quantityText(spec.size, kitchen)} is what the guest gets. Weigh ten and put their mean below.</p>;
  }
  const { weight, count, on } = spec.meanCut;
  const usual = spec.tolerance === null ? usualTolerance(spec.size, kitchen.measures) : null;
  const tolerance = spec.tolerance ?? usual;
  const { standing, off, share, perPortion } = giveaway(spec.size, weight, tolerance, C);
  const size = quantityText(weightIn(ratio.sign(off) < 0 ? ratio.neg(off) : off, spec.size.unit), kitchen);
  const percent = `${printShare(ratio.toDecimal(ratio.sign(share) < 0 ? ratio.neg(share) : share), kitchen)} %`;
  const weighed = <>{quantityText(weight, kitchen)} on average{count !== null && <>, {count} weighed</>}, {printDay(on, kitchen)}</>;
  switch (standing) {
    case "on": return <p>Cut at {weighed}: exactly what is promised.</p>;
    case "over": return <p><Term of="giveaway">Given away</Term>: {size} with each portion, {percent} of it{perPortion !== null && <>, which is <strong>{printMoney(ratio.toDecimal(perPortion), kitchen)}</strong> a portion</>}. Cut at {weighed}; its cost is that of what is cut.</p>;
    case "under": return <p>Cut at {weighed}: {size} under the size, within the {usual === null ? "" : "usual "}tolerance. That is for chance, not for a habit: the guest was promised {quantityText(spec.size, kitchen)}.</p>;
    case "short": return (
      <Told adverse><p><strong>A promise broken, not a saving.</strong> Cut at {weighed}: {size} ({percent}) under the size{tolerance !== null && <>, and more than {usual === null ? "the" : "the usual"} tolerance of {quantityText(tolerance, kitchen)} allows</>}. Cut them larger, or change the size and what the menu says.</p></Told>
    );
  }
}
