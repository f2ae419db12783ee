/**
 * The trade's words, each with what it means here and its formula where it has one. One text for the note beside the
 * word and for the page of words.
 */
export interface TermText {
  readonly word: string;
  readonly meaning: string;
  readonly formula?: string;
}

export const TERMS = {
  "as purchased": { word: "As purchased (AP)", meaning: "The piece, case or can as the dealer bills it, before anything is cut off." },
  "edible portion": { word: "Edible portion (EP)", meaning: "What is left of it to serve once trim, bone, shell or peel are gone." },
  "billed weight": { word: "Billed weight", meaning: "The weight on the invoice. If less arrived, that is a claim on the dealer, not a matter of yield." },
  purge: { word: "Purge", meaning: "Liquid left in the bag. It was billed, so it belongs in the test, on a row of its own." },
  "by-product": { word: "By-product", meaning: "A part that is worth something to this house: lean trim for the grinder, bones for stock. Its worth is what the house would pay its dealer for the same." },
  discard: { word: "Discard", meaning: "A part worth nothing. It is weighed all the same: it explains the yield." },
  "loss in cutting": { word: "Loss in cutting", meaning: "What the weighed parts do not account for. It is worked out, never typed.", formula: "billed − usable − every other part" },
  yield: { word: "Yield", meaning: "Usable weight as a share of the billed weight. Buy with the yield; cost with the factor.", formula: "usable ÷ billed" },
  "borrowed yield": { word: "Borrowed yield", meaning: "A yield that others measured and published, standing in until this house has a test of its own. Every cost that rests on it says so.", formula: "cost = price ÷ yield" },
  "cost per usable pound": { word: "Cost per usable pound", meaning: "What was paid, less what the by-products are worth, over what is usable.", formula: "(weight × price − by-products) ÷ usable weight" },
  "cost factor": { word: "Cost factor", meaning: "Cost per usable pound over the dealer’s price. A new price times the factor is the new cost, if by-products move with the price.", formula: "cost per usable pound ÷ dealer’s price" },
  "portion spec": { word: "Portion spec", meaning: "A cut at a size, with how far a portion may be off it." },
  giveaway: { word: "Giveaway", meaning: "What is cut over the size that was promised, on average. It is paid for and costed; under the size nothing is saved, a promise is broken.", formula: "(mean weight as cut − size) × cost of the cut" },
  "portion cost": { word: "Portion cost", meaning: "What one portion costs: its size times the cost of a usable pound, or counted whole from each piece." },
  allowance: { word: "Allowance", meaning: "What is reckoned and not weighed: seasoning to taste, what comes to every cover, what is spilt. A share on the cost of the lines and a share of the whole differ: 5 % on 10.00 is 10.50, 5 % of the whole 10.53. A yield holds its own waste, so none goes on top of it.", formula: "(lines × (1 + shares on the cost) + money) ÷ (1 − shares of the whole)" },
  "conversion factor": { word: "Conversion factor", meaning: "How many times the measured batch a recipe is made. Lines go by it; seasoning, leavening, thickening, evaporation, the pan and the time do not.", formula: "new yield ÷ old yield" },
  batch: { word: "Batch", meaning: "What a recipe makes at once, measured after cooking." },
  "plate cost": { word: "Plate cost", meaning: "Everything on one guest’s plate: main, sides, garnish, the share of what comes to every cover." },
  "net price": { word: "Net price", meaning: "The menu price without the tax in it. Percentages are of the net price.", formula: "menu price ÷ (1 + tax rate)" },
  "food cost": { word: "Food-cost percentage", meaning: "Plate cost as a share of the net price.", formula: "plate cost ÷ net price" },
  target: { word: "Target", meaning: "What share of the net price the food may cost. Exactly at the target is not over it." },
  contribution: { word: "Contribution margin", meaning: "What a plate leaves when its food is paid. Money, not percentages, reaches the bank.", formula: "net price − plate cost" },
  "prime cost": { word: "Prime cost", meaning: "What a plate costs in food and in the labour that makes it.", formula: "plate cost + direct labour" },
  "spice factor": { word: "Spice factor", meaning: "A small share put on a recipe’s cost for what is added to taste and not weighed." },
  "Q factor": { word: "Q factor", meaning: "What comes with a plate and is not ordered by itself: bread, butter, condiments. Houses mean different things by it, so this one names its own; never count the same thing twice." },
  headroom: { word: "Headroom", meaning: "How far one dealer’s price may rise before the dish is over its target, everything else as it is." },
  "sales mix": { word: "Sales mix", meaning: "How many of each dish were sold. The menu’s own percentage moves with it even when no cost does." },
  "dealer’s price": { word: "Dealer’s price", meaning: "What the dealer asks, for a pack or for one of a unit. What comes on top of it and what is paid back is in the price at the door." },
  "price at the door": { word: "Price at the door", meaning: "The asked price with freight, fuel and other extras, less rebates, in the kitchen’s own money. Costs rest on it.", formula: "(asked + extras − rebates) × exchange rate" },
  contract: { word: "Contract", meaning: "A price agreed until a day. After its last day nobody has promised it any more." },
  "short weight": { word: "Short weight", meaning: "Less was received than was billed. It is a claim on the dealer and no part of the yield: the test counts what was billed.", formula: "billed − received" },
  "credit memo": { word: "Credit memo", meaning: "The dealer’s paper that takes back what an invoice billed." },
  "transfer price": { word: "Transfer price", meaning: "What one part of the house pays another for a by-product. What it came off is credited with it and what it goes into is charged with it: the same number, so that no profit is invented." },
  "capped credit": { word: "Capped credit", meaning: "A by-product is credited only as far as it is used: of 40 pounds a week that come off, 25 go into burgers, so 62.5 % of its worth is credited.", formula: "transfer price × min(1, used ÷ produced)" },
  overbuy: { word: "Overbuy", meaning: "What is bought beyond what is needed, because packs are bought whole.", formula: "packs × content − needed" },
  "make or buy": { word: "Make or buy", meaning: "Cutting portions in the house against buying them cut: goods, labour and wrap less by-products that are really used, against the dealer’s price for a portion." },
  "catch weight": { word: "Catch weight", meaning: "Ordered by the piece or case, billed by what it weighs. Until it is weighed a case costs only about so much." },
  "cooking loss": { word: "Cooking loss", meaning: "What goes up in steam and down the drain at the heat, and stays on the board in carving." },
  spread: { word: "Spread", meaning: "How far the yields of several tests lie from each other, told as their standard deviation. One test has none.", formula: "√(Σ(yield − mean)² ÷ (tests − 1))" },
  "interval of the mean": { word: "Interval of the mean", meaning: "Where the yield of many pieces lies. Prices follow it. It narrows with every test.", formula: "pooled yield ± t × standard error" },
  "interval of the next piece": { word: "Interval of the next piece", meaning: "What one more piece may yield. Orders for a function follow it. It never becomes narrower than pieces differ.", formula: "mean ± t × spread × √(1 + 1 ÷ pieces tested)" },
  "usual range": { word: "Usual range", meaning: "The interval of the next piece as the earlier tests draw it. A test outside it asks whether it was the piece, the cutting or the weighing." },
  "control limits": { word: "Control limits", meaning: "How far single tests lie from their mean while nothing but chance is at work, drawn from the moving ranges of eight tests or more. A test beyond them is a reason to look for a cause, not a verdict on anybody.", formula: "mean ± 3 × mean moving range ÷ 1.128" },
  "moving range": { word: "Moving range", meaning: "By how much a test differs from the one before it." },
  "left out": { word: "Left out", meaning: "A test that somebody decided not to pool, and said why. It stays on file with the reason. Nothing is left out by itself." },
  "try-out": { word: "Try-out", meaning: "As many pretended changes as one likes, laid over the book together and kept by name. The book stays as it is until somebody makes the try-out real: then all of it is recorded as one change." },
} as const satisfies Record<string, TermText>;

export type TermKey = keyof typeof TERMS;
