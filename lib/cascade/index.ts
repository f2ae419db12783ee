/**
 * The cascade: a book compiled once into a graph of costs; full and incremental costing; the ripple of a change; the
 * arithmetic of a figure; sensitivities and break-evens; try-outs. Pure: the book is handed in, nothing is stored.
 */
export * from "./node";
export { type Cascade, compile } from "./cascade";
export { costOf, isIncomplete } from "./cost";
export { costExactly, keyOf } from "./exact";
export { borrowedBelow } from "./borrowed";
export { type Leaf, leavesOf } from "./leaves";
export { advance, tryOut } from "./ripple";
export { breakEvenPrice, breakEvenPrices, dishesPerPrice, priceSensitivity } from "./sensitivity";
export * from "./explain-types";
export { explain } from "./explain-node";
export { repricedAt } from "./explain-cut";
export { carriedIn, costAsRate, priceNow, valuedSheet, yieldOfCut } from "./valued-sheet";
export { type TestsAtToday, priceThenAndNow, testsAtToday } from "./tests-at-today";
export { type User, usersOf } from "./users";
export { batchCostOf } from "./explain-lines";
export { belowNothing } from "./below-nothing";
export { creditedShare } from "./rows/transfer";
export { type CutCredit, type CutCredits, creditsOfCut } from "./credits";
export { dishesAbove } from "./above";
export { type ChartAsked, type ChartedMethod, type ChartedStage, type PriceChart, type PriceChartOrNot, priceChart } from "./price-chart";
export { type NoPrices, type PortionLine, type PortionPrices, type PriceLine, type PriceMethod, type Stage, type StageCredit, atPrice, portionCost, portionLine, portionPrices, priceLine, priceSteps, sensiblePriceStep } from "./portion-prices";
export { adoptedTests, repricingOf, testPrice, valuesOf } from "./rows/cut";
