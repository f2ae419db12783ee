/**
 * The cascade: a book compiled once into a graph of costs; full and incremental costing; the ripple of a change; the
 * arithmetic of a figure; sensitivities and break-evens; try-outs. Pure: the book is handed in, nothing is stored.
 */
export * from "./node";
