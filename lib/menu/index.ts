export * from "./price";
export * from "./state";
export * from "./figures";
export * from "./crossings";
export * from "./ripple";
export * from "./sales";
export * from "./headroom";
export * from "./batch";
