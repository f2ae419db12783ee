/**
 * Printing figures for people: exact inside, rounded once, here. Each printer gives the figure with the kitchen's own
 * marks; units and signs stand beside it, so that a column can say them once.
 */
export { moneyPlaces, roundHalfUp, roundMoney } from "./round";
export { type Printed, moneyFigure, moneyText, printDay, printFactor, printMoney, printNumber, printPoints, printShare, printUnitCost, rateText, shareText } from "./print-number";
export { printQuantity, quantityText } from "./print-quantity";
