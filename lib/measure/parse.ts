/**
 * Reading what a kitchen types, generous to how kitchens write and honest about what has two readings. Each reader
 * gives the value or one sentence that says what would be right; none throws, whatever the text. Problem paths are
 * empty: the caller says where with `at(path, problems)`.
 */
export { parseNumber, quoted } from "./parse-number";
export { type QuantityOptions, otherReadings, parseQuantity, unitNamed } from "./parse-quantity";
export { parseMoney, parseRate } from "./parse-money";
export { parseShare } from "./parse-share";
export { parseYield } from "./parse-yield";
