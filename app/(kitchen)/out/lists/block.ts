/** What happens at the block, as files: yield tests part by part, cuts, portion specs. */
import { type Cut, type PortionSpec, type TestPart, type YieldTest, borrowedInUse, cutsOn } from "@/lib/book";
import { adoptedTests, costOf, repricingOf, valuesOf, yieldOfCut } from "@/lib/cascade";
import { dayCell, listWorkbook } from "@/lib/exchange";
import { exact, rateText, ratio } from "@/lib/measure";
import type { OutList } from "../out-lists";
import { costColumns, exactCell, quantityColumns, ratioCell, words } from "./cells";

interface TestRow {
  readonly test: YieldTest;
  readonly part: TestPart;
}

export const tests: OutList = {
  what: "tests", title: "Yield tests", holds: "every part of every test: weights, pieces, what by-products are worth, and the cuts that stand on it",
  count: ({ live }) => live.book.shelves.test.size,
  workbook: ({ live: { book }, kitchen }, { paper }) => {
    const worth = ({ part: { value } }: TestRow): string => (value === null ? "" : value.kind === "typed" ? rateText(value.rate, kitchen) : `as ${book.shelves[value.kind].get(value.id)?.name ?? value.id}`);
    return listWorkbook<TestRow>({
      title: "Yield tests", paper,
      rows: [...book.shelves.test.values()].sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : 0)).flatMap((test) => test.parts.map((part) => ({ test, part }))),
      columns: [
        { head: "Day", of: ({ test }) => dayCell(test.on) }, words<TestRow>("Kind", ({ test }) => test.kind, 12), words<TestRow>("Of", ({ test }) => book.shelves[test.of.kind].get(test.of.id)?.name, 28), words<TestRow>("Dealer", ({ test }) => (test.dealerId === null ? "" : book.shelves.dealer.get(test.dealerId)?.name), 24),
        words<TestRow>("Cutter", ({ test }) => test.cutter), { head: "Pieces", of: ({ test }) => exactCell(test.pieces) }, ...quantityColumns<TestRow>("Billed", ({ test }) => test.billed), words<TestRow>("Price then", ({ test }) => (test.price === null ? "" : rateText(test.price, kitchen)), 16),
        words<TestRow>("Part", ({ part }) => part.name, 26), words<TestRow>("Is", ({ part }) => (part.role === "main" ? "usable" : part.role), 12), ...quantityColumns<TestRow>("Weight", ({ part }) => part.weight), words<TestRow>("Worth", worth, 20),
        words<TestRow>("Costs ready trimmed", ({ part }) => (part.marketValue === null ? "" : rateText(part.marketValue, kitchen)), 18), words<TestRow>("Further cost", ({ part }) => (part.furtherCost === null ? "" : rateText(part.furtherCost, kitchen)), 16),
        { head: "Pieces weighed", of: ({ part }) => (part.pieces.length === 0 ? null : exactCell(exact(String(part.pieces.length)))) },
        words<TestRow>("Cooked by", ({ test }) => test.cooking?.method), ...quantityColumns<TestRow>("In to the heat", ({ test }) => test.cooking?.trimmed), ...quantityColumns<TestRow>("Cooked", ({ test }) => test.cooking?.cooked),
        words<TestRow>("Cuts that stand on it", ({ test }) => cutsOn(book, test.id).map(({ name }) => name).join(", "), 28), words<TestRow>("Note", ({ test }) => test.note, 40), words<TestRow>("Part’s key", ({ part }) => part.key), words<TestRow>("Id", ({ test }) => test.id, 24),
      ],
    });
  },
};

export const cuts: OutList = {
  what: "cuts", title: "Cuts", holds: "usable products: what each is made from, its yield, the tests or the borrowed yield it stands on, what it costs",
  count: ({ live }) => live.book.shelves.cut.size,
  workbook: ({ live: { book, cascade }, kitchen }, { paper }) => listWorkbook<Cut>({
    title: "Cuts", paper, rows: [...book.shelves.cut.values()].sort((a, b) => (a.name < b.name ? -1 : 1)),
    columns: [
      words("Cut", ({ name }) => name, 30), words("Made from", ({ of }) => book.shelves[of.kind].get(of.id)?.name, 28), { head: "Yield, %", of: ({ id }) => { const share = yieldOfCut(cascade, id); return share === null ? null : ratioCell(ratio.mul(share, ratio.of(100n)), 1); } },
      ...costColumns<Cut>(kitchen, ({ id }) => costOf(cascade, { kind: "cut", id })),
      { head: "Tests", of: ({ testIds }) => exactCell(exact(String(testIds.length))) }, { head: "Newest test", of: ({ testIds }) => dayCell(testIds.map((id) => book.shelves.test.get(id)?.on ?? "").sort().at(-1)) },
      words("Borrowed yield from", (cut) => borrowedInUse(cut)?.source, 34), words("By-products", (cut) => { const adopted = adoptedTests(book, cut); return adopted === null || adopted.length === 0 ? "" : repricingOf(cut, valuesOf(adopted)) === "by-factor" ? "by the factor" : "at their own price"; }, 18),
      words("Specification", ({ specification }) => specification, 40), words("Id", ({ id }) => id, 24),
    ],
  }),
};

export const specs: OutList = {
  what: "specs", title: "Portions", holds: "portion specs: size, tolerance, thickness, trim, how it is costed and what a portion costs",
  count: ({ live }) => live.book.shelves.spec.size,
  workbook: ({ live: { book, cascade }, kitchen }, { paper }) => listWorkbook<PortionSpec>({
    title: "Portions", paper, rows: [...book.shelves.spec.values()].sort((a, b) => (a.name < b.name ? -1 : 1)),
    columns: [
      words("Portion", ({ name }) => name, 30), words("Cut", ({ cutId }) => book.shelves.cut.get(cutId)?.name, 28), ...quantityColumns<PortionSpec>("Size", ({ size }) => size), ...quantityColumns<PortionSpec>("Tolerance", ({ tolerance }) => tolerance),
      words("Thickness", ({ thickness }) => thickness), words("Trim", ({ trim }) => trim, 24), words("Costed", ({ costing }) => (costing === "whole" ? "by whole portions" : "by weight"), 18),
      ...quantityColumns<PortionSpec>("Mean as cut", ({ meanCut }) => meanCut?.weight), ...costColumns<PortionSpec>(kitchen, ({ id }) => costOf(cascade, { kind: "spec", id })), words("Id", ({ id }) => id, 24),
    ],
  }),
};
