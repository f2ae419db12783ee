/** The season of a price: how far each month lies above or below the year around it. The table beside it has every figure. */
"use client";
import { Bar, BarChart, CartesianGrid, ReferenceLine, ResponsiveContainer, XAxis, YAxis } from "recharts";
import { Decimal, printShare } from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";

export interface SeasonBar {
  readonly month: string;
  /** Share above (below: negative) the year's mean; for drawing only. */
  readonly away: number;
}

export function SeasonChart({ bars, label }: { readonly bars: readonly SeasonBar[]; readonly label: string }) {
  const { habits } = useKitchen();
  const ink = { fill: "var(--ink-2)", fontSize: 12 };
  return (
    <figure className="price-chart" aria-label={label} role="img" style={{ margin: "0 0 var(--s4)", maxWidth: "48rem" }}>
      <p className="quiet small" style={{ margin: 0 }}>Above and below the year around it, %</p>
      <ResponsiveContainer width="100%" height={180}>
        <BarChart data={[...bars]} margin={{ top: 8, right: 16, bottom: 4, left: 4 }} accessibilityLayer={false}>
          <CartesianGrid stroke="var(--rule)" vertical={false} />
          <XAxis dataKey="month" stroke="var(--ink-2)" tick={ink} tickLine={false} interval="preserveStartEnd" />
          <YAxis stroke="var(--ink-2)" tick={ink} width={44} tickFormatter={(away: number) => printShare(new Decimal(away), habits, { places: 0 })} />
          <ReferenceLine y={0} stroke="var(--ink-2)" />
          <Bar dataKey="away" fill="var(--act)" isAnimationActive={false} />
        </BarChart>
      </ResponsiveContainer>
    </figure>
  );
}
