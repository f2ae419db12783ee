/** Printing figures for people (being filled in: signatures are final). */
import type { Decimal } from "./decimal";
import type { Habits } from "./habits";
import type { Quantity, Rate } from "./quantity";
import type { Unit } from "./units";
export interface Printed { readonly figure: string; readonly unit: string }
export declare function printQuantity(quantity: Quantity, habits: Habits, options?: { readonly step?: Quantity | null | undefined }): readonly Printed[];
export declare function quantityText(quantity: Quantity, habits: Habits, options?: { readonly step?: Quantity | null | undefined }): string;
export declare function printMoney(amount: Decimal, habits: Habits, options?: { readonly places?: number | undefined }): string;
export declare function moneyFigure(amount: Decimal, habits: Habits, options?: { readonly places?: number | undefined }): string;
export declare function moneyPlaces(currency: string): number;
export declare function roundMoney(amount: Decimal, currency: string): Decimal;
export declare function printNumber(value: Decimal, habits: Habits, options?: { readonly places?: number | undefined }): string;
export declare function printFactor(factor: Decimal, habits: Habits): string;
export declare function printShare(ratio: Decimal, habits: Habits, options?: { readonly places?: number | undefined }): string;
export declare function printPoints(difference: Decimal, habits: Habits): string;
export declare function printDay(day: string, habits: Habits): string;
export declare function printUnitCost(costPerBase: Decimal, unit: Unit, habits: Habits, options?: { readonly places?: number | undefined }): Printed;
export declare function rateText(rate: Rate, habits: Habits): string;
