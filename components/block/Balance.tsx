/** What is left to account for, as a figure and as a bar; patterns tell the parts apart without colour. */
import { type Habits, type Quantity, quantityText, ratio } from "@/lib/measure";
import { leftToAccountFor } from "@/lib/yield";

export interface BalanceProps {
  readonly whole: Quantity | null;
  readonly parts: readonly { readonly name: string; readonly weight: Quantity }[];
  readonly habits: Habits;
}

export function Balance({ whole, parts, habits }: BalanceProps) {
  const left = leftToAccountFor(whole, parts.map(({ weight }) => weight));
  if (whole === null || left === null) {
    return <div className="balance"><p><span>Left to account for</span><strong>{whole === null ? "weigh the whole first" : "the units do not go together"}</strong></p></div>;
  }
  const told = `${quantityText(left.amount, habits)} ${left.tooMuch ? "too much" : ""}`.trim();
  const scale = left.tooMuch ? ratio.div(ratio.ONE, left.weighed) : ratio.ONE;
  return (
    <div className="balance">
      <p><span>{left.tooMuch ? "More than the whole" : "Left to account for"}</span><strong className={left.tooMuch ? "over" : undefined}>{told} <span className="quiet">of {quantityText(whole, habits)}</span></strong></p>
      <div className="bar" role="img" aria-label={`${parts.map(({ name, weight }) => `${name} ${quantityText(weight, habits)}`).join(", ")}${parts.length === 0 ? "" : "; "}${left.tooMuch ? "too much by" : "left"} ${quantityText(left.amount, habits)}`}>
        {left.shares.map((share, index) => <i key={index} style={{ width: `${ratio.toDecimal(ratio.mul(share, scale)).mul(100).toFixed(2)}%` }} />)}
      </div>
    </div>
  );
}
