/** The address of a list: which words it answers to, what it is narrowed to, how it is ordered, and where it begins. */
export interface Sorting {
  readonly key: string;
  /** Largest or last first. */
  readonly down: boolean;
}

export interface ListAddress {
  /** The page that lists: "/items". */
  readonly page: string;
  readonly words: string;
  /** null: in the list's own order. */
  readonly sorting: Sorting | null;
  /** By the name of the filter; only those that narrow. */
  readonly filters: Readonly<Record<string, string>>;
}

/** "price", or "-price" for the largest first. */
export function sortingText(sorting: Sorting | null): string {
  return sorting === null ? "" : `${sorting.down ? "-" : ""}${sorting.key}`;
}

/** What is remembered of a list on a device: how it is narrowed and ordered, not what was looked for. */
export function rememberedQuery({ sorting, filters }: ListAddress): string {
  return new URLSearchParams({ ...filters, ...(sorting === null ? {} : { sort: sortingText(sorting) }) }).toString();
}

export function listHref(list: ListAddress, { from = 1, rows }: { readonly from?: number; readonly rows?: number | undefined } = {}): string {
  const query = new URLSearchParams({
    ...(list.words === "" ? {} : { find: list.words }), ...Object.fromEntries(new URLSearchParams(rememberedQuery(list))),
    ...(from <= 1 ? {} : { from: String(from) }), ...(rows === undefined ? {} : { rows: String(rows) }),
  }).toString();
  return query === "" ? list.page : `${list.page}?${query}`;
}

/** The cookie that a list is remembered in, on its own path. */
export const LIST_COOKIE = "list";
