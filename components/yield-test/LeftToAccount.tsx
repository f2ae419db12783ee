/**
 * The running balance of a test while it is typed: how much of the whole is left to account for, as a number and as a
 * bar. It reads the form around it with the same code as the server, so it never says more than was typed. At the end
 * what is left is the loss, which nobody types. It stays in sight while the parts below it are weighed.
 */
"use client";
import { useEffect, useRef, useState } from "react";
import type { TestKind } from "@/lib/book";
import { type Habits, type Quantity, UNITS, kindOf, parseQuantity, printShare, quantityText, ratio } from "@/lib/measure";
import { type LeftToAccountFor, leftToAccountFor } from "@/lib/yield";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import { KINDS } from "./kinds";
import "./yield-test.css";

interface Weighed {
  readonly left: LeftToAccountFor | null;
  readonly whole: string;
  readonly names: readonly string[];
  /** A unit among the parts that does not measure what the whole does. */
  readonly stray: string | null;
}

export function LeftToAccount({ kind }: { readonly kind: TestKind }) {
  const { habits } = useKitchen();
  const here = useRef<HTMLDivElement>(null);
  const [weighed, setWeighed] = useState<Weighed>({ left: null, whole: "", names: [], stray: null });
  const atTheBoard = kind === "cooking";
  const of = atTheBoard ? "cooked weight" : KINDS[kind].billed.toLowerCase();

  useEffect(() => {
    const form = here.current?.closest("form");
    if (!form) return;
    const read = (): void => setWeighed(readForm(form, atTheBoard, habits));
    const later = (): void => { window.setTimeout(read, 0); };
    read();
    form.addEventListener("input", read);
    form.addEventListener("change", later);
    form.addEventListener("click", later);
    return () => {
      form.removeEventListener("input", read);
      form.removeEventListener("change", later);
      form.removeEventListener("click", later);
    };
  }, [atTheBoard, habits]);

  const { left, names, stray } = weighed;
  const gain = kind === "hydration";
  const tooMuch = left !== null && left.tooMuch && !gain;
  return (
    <div className="left-to-account" ref={here}>
      <p className="left-words">
        <span>{gain && left?.tooMuch ? "Water taken up" : "Left to account for"}</span>{" "}
        <strong className={tooMuch || stray !== null ? "over" : undefined}>{words(weighed, of, gain)}</strong>
      </p>
      <div className={tooMuch ? "left-bar too-much" : "left-bar"} role="img" aria-label={left === null ? "Nothing weighed yet" : `${printShare(ratio.toDecimal(left.weighed), habits)} % is weighed`}>
        {left?.shares.map((share, index) => (
          <i key={index} title={names[index]} style={{ width: `${ratio.toDecimal(left.tooMuch ? ratio.div(share, left.weighed) : share).mul(100).toFixed(2)}%` }} />
        ))}
      </div>
      {tooMuch && <p className="wrong">The parts are heavier than the whole. A tub that was not tared, or ounces typed as decimals?</p>}
    </div>
  );

  function words({ left: found, whole }: Weighed, ofWhat: string, gained: boolean): string {
    if (stray !== null) return `one part is in ${stray}, which does not measure what the ${ofWhat} does`;
    if (found === null) return `the ${ofWhat}, once it is typed`;
    const amount = quantityText(found.amount, habits);
    if (gained && found.tooMuch) return `${amount} on ${whole}`;
    return found.tooMuch ? `${amount} more than the ${ofWhat} of ${whole}` : `${amount} of ${whole}`;
  }
}

function readForm(form: HTMLFormElement, atTheBoard: boolean, habits: Habits): Weighed {
  const data = new FormData(form);
  const bare = habits.measures === "us" ? "lb" : "kg";
  const quantity = (name: string): Quantity | null => {
    const text = data.get(name);
    if (typeof text !== "string" || text.trim() === "") return null;
    const read = parseQuantity(text, habits, { kinds: ["mass", "volume", "count"], bare });
    return read.ok ? read.value : null;
  };
  const parts: Quantity[] = [];
  const names: string[] = [];
  for (const name of data.keys()) {
    const row = /^parts\.(\d+)\.weight$/.exec(name)?.[1];
    const weight = row === undefined ? null : quantity(name);
    // Purge left before the heat: it is no part of what came out of the oven.
    if (weight === null || (atTheBoard && data.get(`parts.${row}.role`) === "purge")) continue;
    parts.push(weight);
    names.push(String(data.get(`parts.${row}.name`) ?? ""));
  }
  const all = quantity(atTheBoard ? "cooking.cooked" : "billed");
  const stray = all === null ? undefined : parts.find((part) => kindOf(part.unit) !== kindOf(all.unit));
  return { left: leftToAccountFor(all, parts), whole: all === null ? "" : quantityText(all, habits), names, stray: stray === undefined ? null : UNITS[stray.unit].many };
}
