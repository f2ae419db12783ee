/**
 * The running balance of a test while it is typed: how much of the whole is left to account for, as a number and as a
 * bar. It reads the form around it with the same code as the server, so it never says more than was typed. At the end
 * what is left is the loss in cutting, which nobody types.
 */
"use client";
import { useEffect, useRef, useState } from "react";
import { type Habits, type Quantity, parseQuantity, printShare, quantityText, ratio } from "@/lib/measure";
import { type LeftToAccountFor, leftToAccountFor } from "@/lib/yield";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import "./yield-test.css";

interface Weighed {
  readonly left: LeftToAccountFor | null;
  readonly whole: string;
  readonly names: readonly string[];
}

export function LeftToAccount({ whole, of, loss }: {
  /** Field that holds the whole: "billed", or "cooking.cooked". */
  readonly whole: string;
  /** What that whole is called in a sentence. */
  readonly of: string;
  /** What is left over at the end is called. */
  readonly loss: string;
}) {
  const { habits } = useKitchen();
  const here = useRef<HTMLDivElement>(null);
  const [weighed, setWeighed] = useState<Weighed>({ left: null, whole: "", names: [] });

  useEffect(() => {
    const form = here.current?.closest("form");
    if (!form) return;
    const read = (): void => setWeighed(readForm(form, whole, habits));
    const later = (): void => { window.setTimeout(read, 0); };
    read();
    form.addEventListener("input", read);
    form.addEventListener("click", later);
    return () => {
      form.removeEventListener("input", read);
      form.removeEventListener("click", later);
    };
  }, [whole, habits]);

  const { left, names } = weighed;
  const words = left === null
    ? `Type the ${of} and the parts; what is left is ${loss}.`
    : left.tooMuch ? `${quantityText(left.amount, habits)} more than the ${of} of ${weighed.whole}` : `${quantityText(left.amount, habits)} of ${weighed.whole}`;
  return (
    <div className="left-to-account" ref={here}>
      <p className="left-words">
        <span>Left to account for</span>{" "}
        <strong className={left?.tooMuch ? "over" : undefined}>{words}</strong>
      </p>
      <div className="left-bar" role="img" aria-label={left === null ? "Nothing weighed yet" : `${printShare(ratio.toDecimal(left.weighed), habits)} % is weighed`}>
        {left?.shares.map((share, index) => (
          <i key={index} title={names[index]} style={{ width: `${ratio.toDecimal(left.tooMuch ? ratio.div(share, left.weighed) : share).mul(100).toFixed(2)}%` }} />
        ))}
      </div>
      {left !== null && !left.tooMuch && <p className="quiet">What is left when everything is weighed is {loss}; it is worked out, never typed.</p>}
      {left?.tooMuch && <p className="wrong">The parts are heavier than the whole. A tub that was not tared, or ounces typed as decimals?</p>}
    </div>
  );
}

function readForm(form: HTMLFormElement, whole: string, habits: Habits): Weighed {
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
    if (weight === null) continue;
    parts.push(weight);
    names.push(String(data.get(`parts.${row}.name`) ?? ""));
  }
  const all = quantity(whole);
  return { left: leftToAccountFor(all, parts), whole: all === null ? "" : quantityText(all, habits), names };
}
