/** The trade's words as they are used here. */
import type { Metadata } from "next";
import { TERMS, type TermText } from "@/components/glossary/terms";
import { PageTop } from "@/components/sheet/PageTop";
import { openKitchen } from "../open-kitchen";

export const metadata: Metadata = { title: "Words" };

export default async function Glossary() {
  await openKitchen("read the book");
  const terms: readonly TermText[] = Object.values(TERMS);
  return (
    <>
      <PageTop title="Words" of={`${terms.length} words of the trade, in the order in which a piece becomes a plate`} answer="What each word means here, and the arithmetic behind it." />
      <dl className="facts words">
        {terms.map((term) => (
          <div key={term.word} style={{ display: "contents" }}>
            <dt>{term.word}</dt>
            <dd>{term.meaning}{term.formula !== undefined && <span className="from">{term.formula}</span>}</dd>
          </div>
        ))}
      </dl>
    </>
  );
}
