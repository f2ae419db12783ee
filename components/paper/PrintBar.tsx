/** Above a form, on the screen alone: which paper, and printing it. */
import Link from "next/link";
import { PAPERS, PAPER_WORDS, type PaperSize } from "./paper-size";
import { PrintButton } from "./PrintButton";

export function PrintBar({ paper, href }: { readonly paper: PaperSize; readonly href: (paper: PaperSize) => string }) {
  return (
    <div className="print-bar no-print">
      <nav aria-label="Paper">
        <ul className="papers">{PAPERS.map((one) => <li key={one}><Link href={href(one)} replace aria-current={one === paper ? "page" : undefined}>{PAPER_WORDS[one]}</Link></li>)}</ul>
      </nav>
      <PrintButton />
    </div>
  );
}
