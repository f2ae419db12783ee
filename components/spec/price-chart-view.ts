/** Portions by price, printed: plain text for the page and the paper. */
export interface PriceChartView {
  readonly title: string;
  readonly lines: string;
  readonly priceHead: string;
  readonly cutHead: string;
  readonly sizeHead: string;
  readonly sizes: readonly { readonly text: string; readonly mark: string; /** What is cut now. */ readonly inUse: boolean }[];
  /** Head of the column that tells the method which is not in force; null where the two say the same. */
  readonly otherHead: string | null;
  readonly rows: readonly {
    readonly key: string;
    readonly today: boolean;
    readonly price: string;
    readonly cut: string;
    readonly portions: readonly string[];
    readonly other: string;
  }[];
  readonly says: readonly string[];
  readonly printed: string;
}
