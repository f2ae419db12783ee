/** The lines of a price list, one fate at a time, those that wait for an answer first; beside each what can be answered. */
import Link from "next/link";
import type { Book, FactOf } from "@/lib/book";
import { ANSWERS_TO, FATES, type Fate, type JudgedLine, LIST_QUESTIONS, type ListChoices, type ListQuestion } from "@/lib/buying";
import type { PriceList } from "@/lib/store";
import { BeforeAfter } from "@/components/figure/BeforeAfter";
import { printCount } from "@/components/find/count";
import { Stretches } from "@/components/find/Stretches";
import { ItemChoice } from "@/components/price-list/ItemChoice";
import { LinesForm } from "@/components/price-list/LinesForm";
import { type Column, Table } from "@/components/table/Table";
import { currencySign } from "../../change-flow/ripple-view";
import { type Asked, stretchOf } from "../../find";
import type { OpenKitchen } from "../../open-kitchen";
import { keepAnswers } from "../actions";
import type { OpenedList } from "../opened";
import { FATE_SAYS, QUESTION_WORDS, answerWords, fateCount, offers, priceView } from "../words";

/** Rows on one page: each has something to choose. */
const MOST_LINES = 50;

export interface LinesProps {
  readonly opened: OpenedList;
  readonly list: PriceList;
  readonly open: OpenKitchen;
  readonly asked: Asked;
}

export function Lines({ opened: { judged, choices }, list, open: { kitchen, live: { book }, may }, asked }: LinesProps) {
  const { counts } = judged;
  const there = FATES.filter((fate) => counts[fate] > 0);
  const shown = there.find((fate) => fate === asked["show"]) ?? there[0];
  if (shown === undefined) return <p>There is no line in this list that has a price beside a code or a name. Look at its columns above.</p>;
  const page = `/lists/${encodeURIComponent(list.id)}`;
  const stretch = stretchOf(judged.lines.filter(({ fate }) => fate === shown), asked["from"], MOST_LINES);
  const mayAnswer = may("change items and prices");
  const questions = mayAnswer && (shown === "asked" || shown === "left") ? LIST_QUESTIONS.filter((question) => question !== "several" && (judged.asked[question] ?? 0) > 1) : [];
  const columns = lineColumns({ book, kitchen, shown, choices, mayAnswer: mayAnswer && (shown === "not-bought" || stretch.rows.some(({ answers }) => answers.length > 0)) });
  const table = <Table caption={`${fateCount(shown, counts[shown], kitchen.locale)}, in the order of the list`} quietCaption columns={columns} rows={stretch.rows} rowKey={({ line }) => String(line.row)} />;
  return (
    <section aria-labelledby="lines">
      <h2 id="lines">Its lines</h2>
      <nav className="fates" aria-label="The lines, by what becomes of them">
        <ul>{there.map((fate) => <li key={fate}><Link href={`${page}?show=${fate}`} prefetch={false} scroll={false} aria-current={fate === shown ? "true" : undefined}>{fateCount(fate, counts[fate], kitchen.locale)}</Link></li>)}</ul>
      </nav>
      <p className="quiet">{FATE_SAYS[shown]}</p>
      {mayAnswer && (shown === "not-bought" || stretch.rows.some(({ answers }) => answers.length > 0))
        ? (
          <LinesForm key={`${shown} ${stretch.before}`} action={keepAnswers} list={list.id} version={list.version} submit={shown === "not-bought" ? "Keep these items" : "Keep these answers"}>
            {questions.length > 0 && <AllAlike questions={questions} asked={judged.asked} choices={choices} kitchen={kitchen} />}
            {table}
          </LinesForm>
        )
        : table}
      <Stretches list={{ page, words: "", filters: { show: shown }, sorting: null }} before={stretch.before} shown={stretch.rows.length} of={stretch.of} most={MOST_LINES} locale={kitchen.locale} />
    </section>
  );
}

interface AllAlikeProps {
  readonly questions: readonly ListQuestion[];
  readonly asked: Readonly<Partial<Record<ListQuestion, number>>>;
  readonly choices: ListChoices;
  readonly kitchen: FactOf["kitchen"];
}

/** One answer for all lines that ask the same; what is answered line by line comes before it. */
function AllAlike({ questions, asked, choices, kitchen }: AllAlikeProps) {
  return (
    <div className="all-alike">
      {questions.map((question) => (
        <div className="field" key={question}>
          <label htmlFor={`all-${question}`}>All {printCount(asked[question] ?? 0, kitchen.locale)}: {QUESTION_WORDS[question]}</label>
          <select id={`all-${question}`} name={`all.${question}`} defaultValue={choices.all[question] ?? ""}>
            <option value="">line by line</option>
            {ANSWERS_TO[question].map((answer) => <option key={answer} value={answer}>{answerWords(answer, null, kitchen)}</option>)}
          </select>
        </div>
      ))}
    </div>
  );
}

interface ColumnsOf {
  readonly book: Book;
  readonly kitchen: FactOf["kitchen"];
  readonly shown: Fate;
  readonly choices: ListChoices;
  readonly mayAnswer: boolean;
}

function lineColumns({ book, kitchen, shown, choices, mayAnswer }: ColumnsOf): readonly Column<JudgedLine>[] {
  const itemOf = ({ itemId }: JudgedLine) => (itemId === null ? undefined : book.shelves.item.get(itemId));
  const columns: Column<JudgedLine>[] = [
    {
      key: "name", head: "Line", cell: (one) => {
        const item = itemOf(one);
        const called = one.line.name || one.line.code || one.line.gtin;
        return <>{item === undefined ? called : <Link href={`/items/${encodeURIComponent(item.id)}`} prefetch={false}>{item.name}</Link>}{item !== undefined && one.line.name !== "" && one.line.name !== item.name && <span className="quiet small"> “{one.line.name}”</span>}</>;
      },
    },
    { key: "row", head: "Row", label: "row", figure: true, fold: "narrow", width: 4, cell: ({ line }) => line.row },
    { key: "code", head: "Code", label: "code", fold: "narrow", cell: ({ line }) => <span className="quiet">{line.code || line.gtin}</span> },
    { key: "price", head: `Price, ${currencySign(kitchen)}`, label: "price", figure: true, fold: "phone", width: 11, cell: (one) => shown === "not-bought" ? `${one.line.priceText}${one.line.pack === "" ? "" : `, ${one.line.pack}`}` : <BeforeAfter {...priceView(one, kitchen)} /> },
  ];
  if (shown !== "not-bought") {
    columns.push({
      key: "says", head: "What of it", label: "", fold: "narrow", cell: ({ problem, notes, repeats, answer, fate }) => (
        <>
          {problem !== null && <p className="line-says">{problem.sentence}</p>}
          {repeats !== null && <p className="line-says">Row {repeats} counts{problem === null ? " and says the same" : ""}.</p>}
          {fate !== "asked" && problem !== null && answer !== null && <p className="line-says quiet">Answered.</p>}
          {notes.map((note) => <p className="line-says quiet" key={note}>{note}</p>)}
        </>
      ),
    });
  }
  if (!mayAnswer) return columns;
  if (shown === "not-bought") {
    columns.push({ key: "answer", head: "It is", label: "", fold: "narrow", cell: (one) => <ItemChoice row={one.line.row} what={one.line.name || one.line.code} offers={offers(book, one, choices.lines[String(one.line.row)])} chosen={choices.lines[String(one.line.row)]?.itemId ?? ""} /> });
  } else if (shown !== "unreadable" && shown !== "same") {
    columns.push({ key: "answer", head: "Answer", label: "", fold: "narrow", cell: (one) => one.answers.length === 0 ? "" : <AnswerField one={one} own={choices.lines[String(one.line.row)]?.answer ?? ""} kitchen={kitchen} /> });
  }
  return columns;
}

function AnswerField({ one, own, kitchen }: { readonly one: JudgedLine; readonly own: string; readonly kitchen: FactOf["kitchen"] }) {
  const { line, answers, problem } = one;
  // A line that nothing is asked of is recorded, unless somebody leaves it out.
  const choices = problem === null ? answers.filter((answer) => answer !== "take") : answers;
  return (
    <select className="find answer" name={`answer.${line.row}`} defaultValue={own === "take" && problem === null ? "" : own} aria-label={`Answer for ${line.name || line.code}, row ${line.row}`}>
      <option value="">{problem === null ? answerWords("take", one, kitchen) : "no answer yet"}</option>
      {choices.map((answer) => <option key={answer} value={answer}>{answerWords(answer, one, kitchen)}</option>)}
    </select>
  );
}
