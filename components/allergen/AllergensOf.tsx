/**
 * What is in a recipe or on a plate by its labels: contains, may contain, and, apart from both, what nobody has looked up
 * yet. Plain data in, as `allergensOf` finds it. It never says "free of": it says what no label named.
 */
import Link from "next/link";
import type { AllergenFound, AllergenLeaf, AllergensFound } from "@/lib/book";
import { CHECK_THE_LABEL } from "./words";
import "./allergens.css";

export interface AllergensOfProps {
  readonly found: AllergensFound;
  /** "this recipe", "this dish". */
  readonly what: string;
  /** Whether the items are linked; not on paper, nor for whoever may not open them. */
  readonly linked?: boolean;
  readonly heading?: string;
}

export function AllergensOf({ found, what, linked = true, heading = "Allergens" }: AllergensOfProps) {
  const { contains, mayContain, unknown, leaves } = found;
  return (
    <section className="allergens" aria-label={heading}>
      <h2>{heading}</h2>
      {leaves.length === 0 ? <p className="quiet">Nothing goes into {what} yet.</p> : (
        <dl className="facts">
          <dt>Contains</dt>
          <dd>{contains.length === 0 ? "none named on a label" : <Named found={contains} linked={linked} />}</dd>
          <dt>May contain traces of</dt>
          <dd>{mayContain.length === 0 ? "none named on a label" : <Named found={mayContain} linked={linked} />}</dd>
          {unknown.length > 0 && <><dt>Not known</dt><dd><strong>Nobody has read the label yet of</strong> <Leaves leaves={unknown} linked={linked} />: it may hold anything.</dd></>}
        </dl>
      )}
      <p className="quiet">{CHECK_THE_LABEL}</p>
    </section>
  );
}

function Named({ found, linked }: { readonly found: readonly AllergenFound[]; readonly linked: boolean }) {
  return (
    <ul>
      {found.map(({ allergen, through }) => <li key={allergen}><strong>{allergen}</strong> <span className="quiet">through <Leaves leaves={through} linked={linked} /></span></li>)}
    </ul>
  );
}

function Leaves({ leaves, linked }: { readonly leaves: readonly AllergenLeaf[]; readonly linked: boolean }) {
  return leaves.map((leaf, index) => (
    <span key={leaf.id}>{index > 0 && (index === leaves.length - 1 ? " and " : ", ")}{linked ? <Link href={`/items/${encodeURIComponent(leaf.id)}`}>{leaf.name}</Link> : leaf.name}</span>
  ));
}
