/**
 * A dealer's price over time as a stepped line: a price holds until the next one, and the last until today. Days stand
 * as far apart as they are. Beside it always stands the table of the same figures, for those who cannot see it and for
 * black-and-white paper. Numbers here are heights on the screen; what is read is printed from the exact figures.
 */
"use client";
import { CartesianGrid, Line, LineChart, ResponsiveContainer, Tooltip, XAxis, YAxis } from "recharts";
import { Decimal, printMoney } from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";

export interface PricePoint {
  /** Calendar day. */
  readonly on: string;
  /** As the kitchen writes a day, short. */
  readonly day: string;
  /** For drawing only. */
  readonly height: number;
  /** As printed: "$7.10 a pound". */
  readonly price: string;
}

export function PriceChart({ points, label, per }: { readonly points: readonly PricePoint[]; readonly label: string; readonly per: string }) {
  const { habits } = useKitchen();
  const placed = points.map((point) => ({ ...point, at: Date.parse(`${point.on}T00:00:00Z`) }));
  const dayOf = new Map(placed.map(({ at, day }) => [at, day]));
  const ink = { fill: "var(--ink-2)", fontSize: 12 };
  return (
    <figure className="price-chart" aria-label={label} role="img" style={{ margin: "0 0 var(--s4)", maxWidth: "48rem" }}>
      <p className="quiet small" style={{ margin: 0 }}>Price {per}</p>
      <ResponsiveContainer width="100%" height={220}>
        <LineChart data={placed} margin={{ top: 8, right: 16, bottom: 4, left: 4 }} accessibilityLayer={false}>
          <CartesianGrid stroke="var(--rule)" vertical={false} />
          <XAxis dataKey="at" type="number" scale="time" domain={["dataMin", "dataMax"]} ticks={placed.map(({ at }) => at)} tickFormatter={(at: number) => dayOf.get(at) ?? ""} interval="preserveStartEnd" stroke="var(--ink-2)" tick={ink} minTickGap={40} />
          <YAxis stroke="var(--ink-2)" tick={ink} width={64} domain={["auto", "auto"]} tickFormatter={(height: number) => printMoney(new Decimal(height), habits)} />
          <Tooltip formatter={(_value, _name, entry) => [(entry.payload as PricePoint | undefined)?.price ?? "", "price"]} labelFormatter={(at) => dayOf.get(Number(at)) ?? ""}
            contentStyle={{ background: "var(--sheet)", border: "1px solid var(--ink)", borderRadius: 3, color: "var(--ink)" }} />
          <Line type="stepAfter" dataKey="height" stroke="var(--act)" strokeWidth={2} dot={false} isAnimationActive={false} />
        </LineChart>
      </ResponsiveContainer>
    </figure>
  );
}
