/**
 * A cost that is only a lower bound: "at least $4.10, missing the price of saffron". Unknown is not zero, so the leaf
 * is named, wherever the cost stands, with a way to it. `short` is for table cells: "at least 4.10" with the rest in
 * the row's own words.
 */
import Link from "next/link";
import type { Lack, Missing as MissingLeaf } from "@/lib/cascade";

const WORDS: Readonly<Record<Lack, string>> = {
  price: "the price of",
  yield: "a yield of",
  density: "the density of",
  "exchange-rate": "what the money is worth that is asked for",
  "each-weight": "what one weighs of",
  fact: "",
};

const PLACES: Readonly<Record<MissingLeaf["of"]["kind"], string>> = { item: "/items", cut: "/cuts", spec: "/specs", recipe: "/recipes", dish: "/dishes" };

/** The missing leaves in words, each with a link to where it can be filled in. */
export function MissingWords({ missing, most = 3 }: { readonly missing: readonly MissingLeaf[]; readonly most?: number }) {
  const shown = missing.slice(0, most);
  return (
    <>
      missing{" "}
      {shown.map((leaf, index) => (
        <span key={`${leaf.what}:${leaf.of.kind}:${leaf.of.id}`}>
          {index > 0 && (index === missing.length - 1 ? " and " : ", ")}
          {WORDS[leaf.what]} <Link href={`${PLACES[leaf.of.kind]}/${encodeURIComponent(leaf.of.id)}`}>{leaf.name}</Link>
        </span>
      ))}
      {missing.length > shown.length && ` and ${missing.length - shown.length} more`}
    </>
  );
}

export function Missing({ atLeast, missing }: { readonly atLeast: string; readonly missing: readonly MissingLeaf[] }) {
  if (missing.length === 0) return <span className="figure">{atLeast}</span>;
  return <span>at least <span className="figure">{atLeast}</span>, <span className="quiet"><MissingWords missing={missing} /></span></span>;
}

/** The missing leaves as plain text, for a sentence that cannot hold links. */
export function missingText(missing: readonly MissingLeaf[]): string {
  return missing.map((leaf) => `${WORDS[leaf.what]} ${leaf.name}`.trim()).join(", ");
}
