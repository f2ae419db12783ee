/** The pair of links by which a list or a sheet is taken away as a file. For whoever may see money, as the files have it. */
import type { ReactNode } from "react";
import { IfMay } from "@/components/kitchen/IfMay";
import "./out.css";

export interface TakeAwayProps {
  /** What it is of, for those who hear links by themselves: "Items". */
  readonly name: string;
  /** The list's own address, "/out/items"; what else is asked goes into `ask`. */
  readonly href: string;
  readonly ask?: Readonly<Record<string, string>>;
  /** Before the links; "Take this away" unless said otherwise. */
  readonly children?: ReactNode;
}

/** Plain links: a file is nothing that the router could show. */
export function TakeAwayLinks({ name, href, ask = {} }: Omit<TakeAwayProps, "children">) {
  const at = (as: string): string => `${href}?${new URLSearchParams({ ...ask, as }).toString()}`;
  return (
    <>
      <a href={at("csv")}><span className="visually-hidden">{name} </span>as CSV</a> <a href={at("xlsx")}><span className="visually-hidden">{name} </span>as XLSX</a>
    </>
  );
}

export function TakeAway({ children = "Take this away", ...links }: TakeAwayProps) {
  return <IfMay deed="see money"><p className="take-away no-print"><span className="quiet">{children}</span> <TakeAwayLinks {...links} /></p></IfMay>;
}
