/** A portion on one sheet of paper for the station: large enough to read at arm's length, black on white, no money. */
import { Fractions } from "@/components/figure/Figure";
import type { PaperSize } from "@/components/paper/paper-size";
import "@/components/paper/paper.css";
import "./spec.css";
import type { PortionCard } from "./portion-card";

export function StationCard({ card, paper }: { readonly card: PortionCard; readonly paper: PaperSize }) {
  return (
    <div className="paper-room" role="region" aria-label="The card" tabIndex={0}>
      <article className={`paper read paper-${paper} station-card`}>
        <header>
          <h2>{card.title}</h2>
          <p>{card.kitchen}</p>
        </header>
        <p className="cut-of">{card.of}</p>
        <p className="size"><Fractions text={card.size} /></p>
        {card.limits !== "" && <p className="limits"><Fractions text={card.limits} /></p>}
        <dl>
          {card.lines.map(({ label, value }) => <div key={label}><dt>{label}</dt><dd><Fractions text={value} /></dd></div>)}
        </dl>
        <footer>
          <p>{card.caution}</p>
          <p>{card.kitchen} · {card.printed}</p>
        </footer>
      </article>
    </div>
  );
}
