/** What goes out of the book and comes into it as files. Pure: data in, bytes out. */
export { safeText } from "./out/safe-text";
export { type Cell, type CellFormat, type CellStyle, type Sheet, type Workbook, cellName, text } from "./out/workbook";
export { sheetNames, xlsx } from "./out/xlsx";
export { type ChartCredit, type ChartMethod, type ChartSize, type ChartStage, type PriceChartBook, priceChartWorkbook } from "./out/price-chart";
export { readFileIn } from "./in/read-file";
export { readGs1 } from "./in/gs1";
export {
  type AskedOfFile, type CodedMoney, type CodedQuantity, DELIMITERS, type Delimiter, ENCODINGS, type Encoding, FILE_LIMITS, type FileRead, type Gs1, type Period,
  type TableCell, type TextTable, type UblCatalogue, type UblCatalogueLine, type UblInvoice, type UblInvoiceLine, type UblItem, type UblPrice,
} from "./in/read-shapes";
export { type CsvMarks, csvMarks, csvOf, safeCsvText } from "./out/csv-out";
export { type ListColumn, type ListOf, dayCell, listWorkbook, numberCell } from "./out/list-sheet";
export { TOLD, TOLD_FACTS, told } from "./whole/told-facts";
export { readTold } from "./whole/read-told";
export {
  type FileChange, type FileLayout, type FileOrderPlan, type FileRevision, type FileTryout, type KitchenFile, KITCHEN_IN_FILE, KITCHEN_VERSION, LARGEST_KITCHEN_FILE, LEFT_OUT,
  fileBegins, fileEnds, fileLines, kitchenFileJsonSchema, kitchenFileTold, readKitchenFile,
} from "./whole/kitchen-file";
