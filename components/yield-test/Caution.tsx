/**
 * The usual care at the block and at the stove, short and where the work is. It defers to the local food code and to
 * licensed practice, and claims no authority of its own.
 */
import type { TestKind } from "@/lib/book";
import "./yield-test.css";

export function Caution({ kind }: { readonly kind: TestKind }) {
  return (
    <details className="caution">
      <summary>Before you cut: knives, cold, clean</summary>
      <p>Cut-resistant glove, stable board, sharp knife; unplug a slicer or saw before cleaning it. Young people may not run or clean power-driven slicers, saws and grinders in many places.</p>
      <p>Work small: take out what you can weigh in a few minutes and keep the rest cold, at 41 °F / 5 °C or below. Clean scale and tubs between species, raw poultry last.</p>
      {kind === "cooking" && <p>Cook to the temperature that your food code asks for this food, take it in the thickest part, and hold hot at 135 °F / 57 °C or above while you weigh.</p>}
      {kind === "butcher" && <p>Trim that goes to the grinder needs the cooking temperature of ground meat; keep its source and lot.</p>}
      <p className="quiet">Your local food code and licensed practice come before anything said here.</p>
    </details>
  );
}
