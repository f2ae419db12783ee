export * from "./decimal";
export * from "./habits";
export * from "./units";
export * from "./quantity";
export * from "./problem";
export * from "./parse";
export * from "./print";
export type { Ratio } from "./ratio";
export * as ratio from "./ratio";
