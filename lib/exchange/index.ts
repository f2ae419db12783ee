/** What goes out of the book and comes into it as files. Pure: data in, bytes out. */
export { safeText } from "./safe-text";
export { type Cell, type CellFormat, type CellStyle, type Sheet, type Workbook, cellName, text } from "./workbook";
export { sheetNames, xlsx } from "./xlsx";
export { type ChartCredit, type ChartMethod, type ChartSize, type ChartStage, type PriceChartBook, priceChartWorkbook } from "./price-chart";
