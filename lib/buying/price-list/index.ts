/** A dealer's price list, from the cells of a file to the changes it makes. */
export { type ListCell, type ListLine, type ListTable, type PricedPer } from "./line";
export { LIST_FIELDS, type ListField, pricedPer } from "./words";
export { type DayOrder, type DecimalMark, listHabits } from "./read-cells";
export { LIST_UNITS, type Layout, type LayoutAsked, guessLayout, layoutAgain, layoutLacks, layoutSetRight, readLayout, tableOf } from "./layout";
export { type ReadLines, readLines } from "./read-lines";
export { type CatalogueLines, linesOfCatalogue } from "./catalogue-lines";
export { ANSWERS, ANSWERS_TO, type Answer, LIST_QUESTIONS, type LineChoice, type ListChoices, type ListQuestion, NO_CHOICES, readChoices } from "./choices";
export { type Likely, itemIndex } from "./likeliest";
export { FATES, type Fate, type JudgedLine, type JudgedList, type ListToJudge, judgeList, priceIfAnswered } from "./judge";
