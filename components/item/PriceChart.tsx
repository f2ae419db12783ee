/**
 * A dealer's price over time as a stepped line: a price holds until the next one. Beside it always stands the table of
 * the same figures, for those who cannot see it and for black-and-white paper.
 */
"use client";
import { CartesianGrid, Line, LineChart, ResponsiveContainer, Tooltip, XAxis, YAxis } from "recharts";

export interface PricePoint {
  /** Calendar day. */
  readonly on: string;
  /** As the kitchen writes a day, short. */
  readonly day: string;
  /** For drawing only. */
  readonly height: number;
  /** As printed: "$7.10". */
  readonly price: string;
}

export function PriceChart({ points, label }: { readonly points: readonly PricePoint[]; readonly label: string }) {
  return (
    <figure role="img" aria-label={label} style={{ margin: "0 0 var(--s4)", maxWidth: "48rem" }}>
      <ResponsiveContainer width="100%" height={220}>
        <LineChart data={[...points]} margin={{ top: 8, right: 12, bottom: 4, left: 4 }}>
          <CartesianGrid stroke="var(--rule)" vertical={false} />
          <XAxis dataKey="day" stroke="var(--ink-2)" tick={{ fill: "var(--ink-2)", fontSize: 12 }} minTickGap={48} />
          <YAxis stroke="var(--ink-2)" tick={{ fill: "var(--ink-2)", fontSize: 12 }} width={52} domain={["auto", "auto"]} />
          <Tooltip formatter={(_value, _name, entry) => [(entry.payload as PricePoint | undefined)?.price ?? "", "price"]} contentStyle={{ background: "var(--sheet)", border: "1px solid var(--ink)", borderRadius: 3, color: "var(--ink)" }} />
          <Line type="stepAfter" dataKey="height" stroke="var(--act)" strokeWidth={2} dot={false} isAnimationActive={false} />
        </LineChart>
      </ResponsiveContainer>
    </figure>
  );
}
