/**
 * A figure with its unit in the second ink: 8.77 $, 18 lb 6 oz, 32.5 %. With `href` it can be opened to its
 * arithmetic (`figureHref`), and `label` says which figure it is to those who hear the page. Figures come in printed
 * (lib/measure): nothing is computed or rounded here.
 *
 *   <Figure of={{ figure: "9.92", unit: "$/lb" }} href={figureHref({ kind: "cut", id })} label="Cost of striploin, trimmed" />
 */
import Link from "next/link";
import type { ReactNode } from "react";
import type { Printed } from "@/lib/measure";
import type { NodeRef } from "@/lib/cascade";

/** The page that opens a cost to its arithmetic. */
export function figureHref(ref: NodeRef): string {
  return `/figure/${ref.kind}/${encodeURIComponent(ref.id)}`;
}

export interface FigureProps {
  readonly of: Printed | readonly Printed[];
  readonly href?: string | undefined;
  readonly label?: string | undefined;
  readonly strong?: boolean;
  readonly tone?: "over" | "near" | undefined;
}

export function Figure({ of, href, label, strong = false, tone }: FigureProps) {
  const pairs = "figure" in of ? [of] : of;
  const figures = pairs.map((pair, index) => (
    <span key={index} className="pair">
      {index > 0 && " "}
      <span className={strong ? "f strong" : "f"}>{strong ? <strong><Fractions text={pair.figure} /></strong> : <Fractions text={pair.figure} />}</span>
      {pair.unit !== "" && <span className="u">{"\u00a0"}{pair.unit}</span>}
    </span>
  ));
  const className = tone ? `figure ${tone}` : "figure";
  if (href === undefined) return <span className={className}>{figures}</span>;
  return (
    <Link className={className} href={href} prefetch={false} title="Open this figure to its arithmetic">
      {label !== undefined && <span className="visually-hidden">{label}: </span>}
      {figures}
    </Link>
  );
}

/** Text with its common fractions (8 11/16) set as true fractions. Dates and ratios with more than one slash stay as they are. */
export function Fractions({ text }: { readonly text: string }): ReactNode {
  const parts = text.split(/(?<![\d/])(\d{1,3}\/\d{1,3})(?![\d/])/);
  if (parts.length === 1) return text;
  return parts.map((part, index) => (index % 2 === 1 ? <span key={index} className="fr">{part}</span> : part));
}
