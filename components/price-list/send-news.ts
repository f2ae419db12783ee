/** What a long task tells while it is carried out, a line of JSON each: what it is doing, and at last where to go on or what is wrong. */
export type SendNews =
  | { readonly doing: string }
  | { readonly href: string }
  | { readonly problems: readonly string[] };
