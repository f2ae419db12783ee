/**
 * The plate opened branch by branch to what was bought, in plain folds that need no script: what each adds to one plate,
 * its share, and at the leaf whose price it is and how old. What a test or a price no longer stands for is said there.
 */
import Link from "next/link";
import type { FactOf } from "@/lib/book";
import type { Step } from "@/lib/cascade";
import { moneyFigure, moneyPlaces, printDay, printShare, quantityText } from "@/lib/measure";
import type { Age, CostBranch } from "@/lib/menu";
import { sayStale } from "@/lib/yield";
import { figureHref } from "@/components/figure/Figure";
import { MissingWords } from "@/components/figure/Missing";
import { behindWords, capWords } from "./ExplanationLedger";
import "./cost-tree.css";

type Kitchen = FactOf["kitchen"];

export function CostTree({ branches, kitchen, label }: { readonly branches: readonly CostBranch[]; readonly kitchen: Kitchen; readonly label: string }) {
  return <ul className="tree" aria-label={label}>{branches.map((branch) => <li key={branch.key}><Branch branch={branch} kitchen={kitchen} top /></li>)}</ul>;
}

function Branch({ branch, kitchen, top = false }: { readonly branch: CostBranch; readonly kitchen: Kitchen; readonly top?: boolean }) {
  const { step, branches, age } = branch;
  const stale = age !== null && age.stale.length > 0;
  const row = (
    <>
      <span className="name">
        {LESS.has(step.kind) ? "less " : ""}{step.name}{top && step.quantity !== null && <span className="quiet">, {quantityText(step.quantity, kitchen)}</span>}
        {branches.length === 0 && <LeafWords branch={branch} kitchen={kitchen} />}
        {branches.length > 0 && age !== null && <span className="from">{ageWords(age)}{stale && <>, <span className="stale">stale</span></>}</span>}
      </span>
      <span className="n">{branch.amount === null ? <span className="quiet">unknown</span> : <>{step.missing.length > 0 && <span className="quiet small">at least </span>}{figure(branch, kitchen)}</>}</span>
      <span className="n share">{branch.share === null ? "" : `${printShare(branch.share, kitchen).replace("-", "−")} %`}</span>
    </>
  );
  if (branches.length === 0) return <div className="leaf">{row}</div>;
  return (
    <details>
      <summary>{row}</summary>
      {step.behind !== null && step.behind.kind !== "quote" && step.behind.kind !== "transfer" && <p>{behindWords(step.behind, kitchen)}{stale && <>. <span className="stale">{age.stale.map((reason) => sayStale(reason, kitchen)).join(" ")}</span></>}{step.ref !== null && <> <Link href={figureHref(step.ref)}>Its own page</Link></>}</p>}
      <ul>{branches.map((below) => <li key={below.key}><Branch branch={below} kitchen={kitchen} /></li>)}</ul>
    </details>
  );
}

const LESS: ReadonlySet<Step["kind"]> = new Set(["by-product", "other-main", "end"]);

/** Whose price it is, since when, how old; what is missing; where to go on. */
function LeafWords({ branch, kitchen }: { readonly branch: CostBranch; readonly kitchen: Kitchen }) {
  const { step, age } = branch;
  const { detail } = step;
  return (
    <>
      {step.behind !== null && <span className="from">{behindWords(step.behind, kitchen)}</span>}
      {detail?.of === "credit" && detail.value !== null && <span className="from">{detail.value.kind === "linked" ? <>worth what {detail.value.name} costs{detail.cap !== null && <>; {capWords(detail.cap, kitchen)}</>}</> : <>worth typed {printDay(detail.value.on, kitchen)}</>}</span>}
      {detail?.of === "allowance" && <span className="from">an allowance</span>}
      {age !== null && <span className="from">{ageWords(age)}{age.stale.length > 0 && <>: <span className="stale">stale. {age.stale.map((reason) => sayStale(reason, kitchen)).join(" ")}</span></>}</span>}
      {step.missing.length > 0 && <span className="from"><MissingWords missing={step.missing} most={2} /></span>}
      {step.ref !== null && <Link className="small" href={figureHref(step.ref)} aria-label={`The arithmetic of ${step.name}`}>{branch.goesOn ? "Goes on at its own page" : "Its arithmetic"}</Link>}
    </>
  );
}

const AGED: Readonly<Record<Age["of"], string>> = { price: "price", transfer: "transfer price", test: "newest test", worth: "worth", borrowed: "taken up" };

/** "price 14 days old", "newest test of today". */
export function ageWords({ of, days }: Pick<Age, "of" | "days">): string {
  if (days < 0) return `${AGED[of]} dated ${days === -1 ? "tomorrow" : `${-days} days ahead`}`;
  if (of === "borrowed") return days === 0 ? "yield taken up today" : `yield taken up ${days === 1 ? "yesterday" : `${days} days ago`}`;
  return days === 0 ? `${AGED[of]} of today` : `${AGED[of]} ${days === 1 ? "1 day" : `${days} days`} old`;
}

/** To the cent, unless that would say nothing of it. */
function figure({ amount }: CostBranch, kitchen: Kitchen): string {
  if (amount === null) return "";
  const least = moneyPlaces(kitchen.currency);
  return moneyFigure(amount, kitchen, { places: amount.isZero() || amount.abs().gte("0.005") ? least : least + 2 }).replace("-", "−");
}
