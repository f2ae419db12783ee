/**
 * Finding something on a long list: a field, and where the list has them what it can be narrowed to and ordered by. It
 * asks the same page again, so that it works without a script and the address can be kept and handed on. It says how many
 * were found, and gives the way back to all. Where more rows are there than one page shows, `Stretches` stands below the
 * list and leads on and back.
 */
import Link from "next/link";
import { Button } from "@/components/form/Button";
import { type ListAddress, sortingText } from "./address";
import { printCount } from "./count";

/** One thing that a list can be narrowed by. */
export interface FilterView {
  readonly name: string;
  readonly label: string;
  readonly choices: readonly { readonly value: string; readonly label: string }[];
}

export interface FindProps {
  /** The page that lists: "/items". */
  readonly page: string;
  /** What is looked for: "Find an item". */
  readonly label: string;
  readonly asked: string;
  /** How many were found, of how many. */
  readonly found: number;
  readonly all: number;
  readonly locale: string;
  /** For a list that can be narrowed and ordered: its address, and by what. */
  readonly list?: ListAddress;
  readonly filters?: readonly FilterView[];
  readonly sorts?: readonly { readonly key: string; readonly label: string }[];
}

export function Find({ page, label, asked, found, all, locale, list, filters = [], sorts = [] }: FindProps) {
  const narrowed = filters.flatMap((filter) => {
    const value = list?.filters[filter.name];
    const choice = filter.choices.find((one) => one.value === value);
    return choice === undefined ? [] : [`${filter.label.toLowerCase()} ${choice.label}`];
  });
  const sorting = sortingText(list?.sorting ?? null);
  const showAll = <Link href={list === undefined ? page : `${page}?show=all`}>Show all</Link>;
  const count = `${found === 0 ? "None" : printCount(found, locale)} of ${printCount(all, locale)}`;
  return (
    <form className="find" role="search" action={page} method="get">
      <label htmlFor="find">{label}</label>
      <input id="find" className="find" type="search" name="find" defaultValue={asked} autoComplete="off" spellCheck={false} maxLength={120} />
      {filters.map((filter) => (
        <label key={filter.name} className="by">{filter.label}
          <select className="find" name={filter.name} key={list?.filters[filter.name] ?? ""} defaultValue={list?.filters[filter.name] ?? ""}>
            <option value="">any</option>
            {filter.choices.map((choice) => <option key={choice.value} value={choice.value}>{choice.label}</option>)}
          </select>
        </label>
      ))}
      {sorts.length > 0 && (
        <label className="by">Order
          <select className="find" name="sort" key={sorting} defaultValue={sorting}>
            <option value="">as it comes</option>
            {sorts.flatMap((sort) => [
              <option key={sort.key} value={sort.key}>{sort.label}, up</option>,
              <option key={`-${sort.key}`} value={`-${sort.key}`}>{sort.label}, down</option>,
            ])}
          </select>
        </label>
      )}
      <Button type="submit" plain>Find</Button>
      {(asked !== "" || narrowed.length > 0) && <p role="status">{count} {found === 1 ? "answers" : "answer"} to {[...(asked === "" ? [] : [`“${asked}”`]), ...narrowed].join(", ")}. {showAll}</p>}
      {asked === "" && narrowed.length === 0 && sorting !== "" && <p>In an order of your own. {showAll}</p>}
    </form>
  );
}
