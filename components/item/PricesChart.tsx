/**
 * Every dealer's price at the door over time, each a stepped line in a pattern of its own, so that they are told apart in
 * black and white. Days stand as far apart as they are; today and the ends of contracts are marked. Beside it always
 * stands the table of the same figures. Numbers here are heights on the screen.
 */
"use client";
import { CartesianGrid, Line, LineChart, ReferenceLine, ResponsiveContainer, Tooltip, XAxis, YAxis } from "recharts";
import { Decimal, printDay, printMoney } from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";

export interface PriceLine {
  readonly key: string;
  readonly dealer: string;
  /** Calendar day and height; null: from that day on it is not offered, or what its money is worth is not known. */
  readonly points: readonly { readonly on: string; readonly height: number | null }[];
  /** Last days of its contracts. */
  readonly ends: readonly string[];
}

const PATTERNS = ["", "7 4", "2 3", "9 3 2 3", "4 2", "1 4"] as const;
const INKS = ["var(--act)", "var(--near)", "var(--focus)", "var(--ink)", "var(--over)", "var(--ink-2)"] as const;

/** `today` is marked where something waits behind it. */
export function PricesChart({ lines, label, per, today, until }: { readonly lines: readonly PriceLine[]; readonly label: string; readonly per: string; readonly today: string; readonly until: string }) {
  const { habits } = useKitchen();
  const at = (day: string): number => Date.parse(`${day}T00:00:00Z`);
  const days = [...new Set([...lines.flatMap((line) => line.points.map(({ on }) => on)), today, until])].filter((day) => day <= until).sort();
  const data = days.map((day) => ({
    at: at(day), day,
    ...Object.fromEntries(lines.map((line, index) => [`line${index}`, line.points.findLast(({ on }) => on <= day)?.height ?? null])),
  }));
  const dayOf = (time: number): string => printDay(new Date(time).toISOString().slice(0, 10), habits);
  const short = (time: number): string => dayOf(time).split(" ").slice(1).join(" ");
  const ink = { fill: "var(--ink-2)", fontSize: 12 };
  const first = days[0] ?? today;
  return (
    <figure className="price-chart" style={{ margin: "0 0 var(--s4)", maxWidth: "60rem" }}>
      <p className="quiet small" style={{ margin: 0 }}>At the door, {per}</p>
      <div role="img" aria-label={label}>
        <ResponsiveContainer width="100%" height={280}>
          <LineChart data={data} margin={{ top: 18, right: 16, bottom: 4, left: 4 }} accessibilityLayer={false}>
            <CartesianGrid stroke="var(--rule)" vertical={false} />
            <XAxis dataKey="at" type="number" scale="time" domain={[at(first), at(until)]} tickFormatter={short} stroke="var(--ink-2)" tick={ink} minTickGap={48} />
            <YAxis stroke="var(--ink-2)" tick={ink} width={64} domain={["auto", "auto"]} tickFormatter={(height: number) => printMoney(new Decimal(height), habits)} />
            <Tooltip formatter={(value, name) => [printMoney(new Decimal(Number(value)), habits), name]} labelFormatter={(time) => dayOf(Number(time))}
              contentStyle={{ background: "var(--sheet)", border: "1px solid var(--ink)", borderRadius: 3, color: "var(--ink)" }} />
            {today < until && <ReferenceLine x={at(today)} stroke="var(--ink-2)" label={{ value: "today", position: "top", fill: "var(--ink-2)", fontSize: 12 }} />}
            {lines.flatMap((line) => line.ends).filter((end) => end >= first && end <= until).map((end) => (
              <ReferenceLine key={end} x={at(end)} stroke="var(--near)" strokeDasharray="2 4" label={{ value: "contract ends", position: "insideBottomRight", fill: "var(--near)", fontSize: 12 }} />
            ))}
            {lines.map((line, index) => (
              <Line key={line.key} name={line.dealer} type="stepAfter" dataKey={`line${index}`} stroke={INKS[index % INKS.length] ?? "var(--ink)"} strokeDasharray={PATTERNS[index % PATTERNS.length] ?? ""} strokeWidth={2} dot={false} isAnimationActive={false} connectNulls={false} />
            ))}
          </LineChart>
        </ResponsiveContainer>
      </div>
      {lines.length > 1 && (
        <figcaption className="small">
          {lines.map((line, index) => (
            <span key={line.key} style={{ marginRight: "var(--s4)", whiteSpace: "nowrap" }}>
              <svg width="34" height="8" aria-hidden="true"><line x1="0" y1="4" x2="30" y2="4" stroke={INKS[index % INKS.length]} strokeWidth="2" strokeDasharray={PATTERNS[index % PATTERNS.length]} /></svg>{line.dealer}
            </span>
          ))}
        </figcaption>
      )}
    </figure>
  );
}
