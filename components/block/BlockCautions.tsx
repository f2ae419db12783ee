/**
 * The cautions where the work is, short, and put away for the day by whoever has read them. They defer to the local food
 * code and to licensed practice, and claim no authority of their own.
 */
"use client";
import { useState, useSyncExternalStore } from "react";
import type { TestKind } from "@/lib/book";
import { useKitchen } from "@/components/kitchen/KitchenContext";

const READ_ON = "trimledger cautions read on";

export function BlockCautions({ kind }: { readonly kind: TestKind }) {
  const { today } = useKitchen();
  // The server does not know what this device has read: there they are told, and put away in the browser.
  const read = useSyncExternalStore(onOtherWindows, () => readOn() === today, () => false);
  const [opened, setOpened] = useState<boolean | null>(null);
  const putAway = (): void => {
    setOpened(false);
    try {
      window.localStorage.setItem(READ_ON, today);
    } catch {
      // it is told again
    }
  };
  if (!(opened ?? !read)) return <button type="button" className="btn plain" onClick={() => setOpened(true)}>Cautions</button>;
  return (
    <div className="caution cautions" role="note" aria-label="Cautions">
      <p>{CAUTIONS[kind].join(" ")} Labels tell allergens; this page does not. <span className="quiet">Your local food code and licensed practice come first.</span></p>
      <button type="button" className="btn plain" onClick={putAway}>Read, for today</button>
    </div>
  );
}

function onOtherWindows(changed: () => void): () => void {
  window.addEventListener("storage", changed);
  return () => window.removeEventListener("storage", changed);
}

function readOn(): string | null {
  try {
    return window.localStorage.getItem(READ_ON);
  } catch {
    return null;
  }
}

const COLD = "Cut-resistant glove, stable board, sharp knife. Keep what you are not weighing at 41 °F / 5 °C or below. Clean scale and tubs between species, raw poultry last.";
const CAUTIONS: Readonly<Record<TestKind, readonly string[]>> = {
  butcher: [COLD, "Nobody under age runs or cleans a power slicer, saw or grinder. Ground trim needs the cooking temperature of ground meat; keep its source and lot. Vacuum packing in house needs a food-safety plan of its own."],
  trim: [COLD],
  cooking: ["Hot fat and pans: dry cloths, room to put down. Cook to what your food code asks for this food, taken in the thickest part; hold at 135 °F / 57 °C or above while you weigh."],
  drained: ["Mind the edges of opened cans. What is opened is kept cold and covered."],
  hydration: ["Hot water: drain away from you. Cool what is kept quickly, and keep it cold."],
};
