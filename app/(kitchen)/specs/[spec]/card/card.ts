/** What stands on the card of a portion: how large, how far off, how thick, how many from a piece. Nothing of what it costs. */
import { type Cut, type PortionSpec, factKey } from "@/lib/book";
import { type Ratio, printDay, quantityText } from "@/lib/measure";
import { limitsOf, pieceOfPortion, usualThicknessTolerance, weightIn, wholePortionLine } from "@/lib/yield";
import { paperCaution } from "@/components/paper/cautions";
import type { CardLine, PortionCard } from "@/components/spec/portion-card";
import type { OpenKitchen } from "../../../open-kitchen";

export function portionCard({ live, kitchen, visitor }: OpenKitchen, spec: PortionSpec, cut: Cut): PortionCard {
  const { book } = live;
  const say = (label: string, value: string): CardLine[] => (value === "" ? [] : [{ label, value }]);
  const limits = spec.tolerance === null ? null : limitsOf(spec.size, spec.tolerance);
  const inUnit = (amount: Ratio): string => quantityText(weightIn(amount, spec.size.unit), kitchen);
  const one = spec.pieces === null || spec.pieces === "1" ? null : pieceOfPortion(spec.size, spec.pieces);
  const thickness = usualThicknessTolerance(spec.thickness, kitchen);
  const provenance = book.provenance.get(factKey("spec", spec.id));
  return {
    title: spec.name, of: cut.name, kitchen: kitchen.name, size: quantityText(spec.size, kitchen),
    limits: limits === null || spec.tolerance === null ? "" : `from ${inUnit(limits.least)} to ${inUnit(limits.most)} (± ${quantityText(spec.tolerance, kitchen)})`,
    lines: [
      ...(one === null ? [] : say("Pieces to a portion", `${spec.pieces ?? ""}, ${quantityText(one, kitchen)} each`)),
      ...say("Thickness", spec.thickness === "" ? "" : `${spec.thickness}${thickness === null ? "" : ` (usually ± ${thickness})`}`),
      ...say("From a piece", fromAPiece(live, spec, cut, kitchen)),
      ...say("Trim", spec.trim), ...say("The cut", cut.specification),
      ...say("Weigh", "before cooking. Ten now and then, and their mean told in the office."),
    ],
    caution: paperCaution("butcher"),
    printed: `${provenance === undefined ? "" : `as of ${printDay(provenance.validFrom, kitchen)}, recorded by ${provenance.by} · `}printed ${printDay(live.today, kitchen)} by ${visitor.name}`,
  };
}

/** "14 from 8 lb 15 oz; 13 from 8 lb 10 oz": so many whole portions, as the tested pieces gave them. */
function fromAPiece({ book }: OpenKitchen["live"], spec: PortionSpec, cut: Cut, kitchen: OpenKitchen["kitchen"]): string {
  const tests = cut.testIds.flatMap((id) => book.shelves.test.get(id) ?? []);
  const line = tests.length === 0 ? null : wholePortionLine(tests, cut.partKey, spec.size);
  if (line === null || !line.ok) return "";
  const unit = tests[0]?.billed.unit ?? spec.size.unit;
  const { pieces, portions } = line.value.counted;
  const told = pieces.slice(0, MOST_TOLD).map((piece) => `${piece.portions} from ${quantityText(weightIn(piece.piece, unit), kitchen)}`);
  return pieces.length <= MOST_TOLD ? told.join("; ") : `${portions} from ${pieces.length} pieces as tested`;
}

const MOST_TOLD = 4;
