/** A recipe on paper for the kitchen: what goes in, what comes out, how, to which temperature, and what its labels say. No money. */
import type { AllergensFound, Recipe } from "@/lib/book";
import type { Habits } from "@/lib/measure";
import { AllergensOf } from "@/components/allergen/AllergensOf";
import { Fractions } from "@/components/figure/Figure";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./recipe.css";
import { Steps } from "./Steps";
import type { LineAtSize } from "./scaled";

export interface RecipeCardProps {
  readonly recipe: Pick<Recipe, "name" | "section" | "method" | "steps">;
  readonly kitchen: string;
  readonly habits: Habits;
  readonly yields: string;
  /** "2 times the batch, asked for as 7 qt"; null for one batch. */
  readonly size: string | null;
  readonly care: string | null;
  readonly lines: readonly LineAtSize[];
  readonly allergens: AllergensFound;
  readonly printed: string;
  readonly paper: PaperSize;
}

export function RecipeCard({ recipe, kitchen, habits, yields, size, care, lines, allergens, printed, paper }: RecipeCardProps) {
  return (
    <div className="paper-room" role="region" aria-label="The card" tabIndex={0}>
      <article className={`paper read paper-${paper}`}>
        <header>
          <h2>{recipe.name}</h2>
          <p>{recipe.section === "" ? kitchen : `${recipe.section} · ${kitchen}`}</p>
        </header>
        <dl className="written">
          <div className="wide"><dt>Yields</dt><dd><Fractions text={yields} />{size === null ? ", measured after cooking" : ", reckoned from the batch that was measured"}</dd></div>
          {size !== null && <div className="wide"><dt>Size</dt><dd><Fractions text={size} /></dd></div>}
        </dl>
        {care !== null && <p className="care">{care}</p>}
        <table className="card-lines">
          <caption className="visually-hidden">What goes in</caption>
          <thead><tr><th scope="col">Quantity</th><th scope="col">What goes in</th></tr></thead>
          <tbody>{lines.map((line) => <tr key={line.key}><td>{!line.exact && "about "}<Fractions text={line.quantity} /></td><td><LineWords line={line} /></td></tr>)}</tbody>
        </table>
        {(recipe.method !== "" || recipe.steps.length > 0) && <><h3>Method</h3><Steps recipe={recipe} habits={habits} /></>}
        <AllergensOf found={allergens} what="this recipe" linked={false} />
        <footer>
          <p>Temperatures are this kitchen’s own words; your local food code comes first.</p>
          <p>{kitchen} · {printed}</p>
        </footer>
      </article>
    </div>
  );
}

/** The name of a line, how it is measured, and what else has to be said of it. */
export function LineWords({ line }: { readonly line: LineAtSize }) {
  const words = [line.basis, line.note, line.broken === null ? "" : `comes out broken: ${line.broken}, or weigh it`].filter(Boolean).join(" · ");
  return <>{line.name}{words !== "" && <span className="small-words"> {words}</span>}</>;
}
