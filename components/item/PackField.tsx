/**
 * A pack as the trade writes it, said back in words while it is typed. Where only a can's size is written, what such cans
 * usually hold is offered, least and most, with its source; nothing is filled in unasked, since the label decides.
 */
"use client";
import { useState } from "react";
import { canSizeOf, CAN_SIZES_SOURCE, packOfCans, parsePack, printPack } from "@/lib/book";
import { type Checked, bad, good, quantityText } from "@/lib/measure";
import { Button, EchoField } from "@/components/form";
import { useField } from "@/components/form/FormContext";
import { useKitchen } from "@/components/kitchen/KitchenContext";

export function PackField({ name }: { readonly name: string }) {
  const { habits } = useKitchen();
  const { start } = useField(name);
  const [text, setText] = useState(start);
  const [taken, setTaken] = useState<{ readonly text: string; readonly times: number }>();
  const understand = (typed: string): Checked<string> => {
    const read = parsePack(typed, habits);
    if (read.ok) return good(printPack(read.value, habits));
    // What such cans usually hold stands right below.
    return packOfCans(typed, habits) === null ? read : bad("", "can-size", "That names a can size: read off the label what a can holds, and write it behind, such as 6/#10 (102 oz).");
  };
  const cans = packOfCans(text, habits);
  const size = cans === null ? null : canSizeOf(cans.levels.at(-1)?.container ?? "");
  const contents = size === null ? [] : [...new Set([size.from, size.to].map((content) => quantityText(content, habits)))];
  return (
    <div>
      <EchoField key={taken?.times ?? 0} name={name} label="Pack" prefill={taken?.text} understand={understand} onText={setText} required words
        hint="40 lb, 4/5 lb, 6/#10 (102 oz), 80 ct, 2/13# avg, case of 4 bags of 5 lb" />
      {size !== null && (
        <p role="group" aria-label="What a can holds">
          <span className="quiet small">A {size.name} can usually holds ({CAN_SIZES_SOURCE}):</span>{" "}
          {contents.map((content) => {
            const full = `${text.trim()} (${content})`;
            return <span key={content}><Button plain onClick={() => { setText(full); setTaken({ text: full, times: (taken?.times ?? 0) + 1 }); }}>{content}</Button>{" "}</span>;
          })}
        </p>
      )}
    </div>
  );
}
