/**
 * Yields of one thing, test by test, against the limits that the tests' own differences draw. Tests stand one beside the
 * other in their order, whatever the days between. A ring is a test within the limits, a filled diamond one beyond, a
 * filled square one of a run on one side; the mean is a whole line and the limits are dashed. The table of the same
 * figures stands beside it. Numbers here are heights on the screen; what is read is printed from the exact figures.
 */
"use client";
import { CartesianGrid, Line, LineChart, ReferenceLine, ResponsiveContainer, Tooltip, XAxis, YAxis } from "recharts";
import { Decimal, printShare } from "@/lib/measure";
import { useKitchen } from "@/components/kitchen/KitchenContext";
import "./yield-test.css";

export type PointForm = "within" | "beyond" | "run";

export interface ControlPoint {
  readonly testId: string;
  /** As the kitchen writes a day. */
  readonly day: string;
  /** For drawing only. */
  readonly height: number;
  /** "67.1 %". */
  readonly yield: string;
  readonly form: PointForm;
}

export interface ControlLine {
  readonly height: number;
  /** "upper limit 71.2 %". */
  readonly label: string;
}

export function ControlChart({ points, mean, lower, upper, label }: { readonly points: readonly ControlPoint[]; readonly mean: ControlLine; readonly lower: ControlLine; readonly upper: ControlLine; readonly label: string }) {
  const { habits } = useKitchen();
  const placed = points.map((point, index) => ({ ...point, at: index + 1 }));
  const { bottom, top, ticks } = scaleOf([lower.height, upper.height, ...points.map(({ height }) => height)]);
  const ink = { fill: "var(--ink-2)", fontSize: 12 };
  const dayAt = (at: number): string => placed[at - 1]?.day ?? "";
  return (
    <figure className="control-chart" aria-label={label} role="img">
      <ResponsiveContainer width="100%" height={280}>
        <LineChart data={placed} margin={{ top: 20, right: 16, bottom: 4, left: 4 }} accessibilityLayer={false}>
          <CartesianGrid stroke="var(--rule)" vertical={false} />
          <XAxis dataKey="at" type="number" domain={[0.5, placed.length + 0.5]} ticks={placed.map(({ at }) => at)} tickFormatter={dayAt} interval="preserveStartEnd" stroke="var(--ink-2)" tick={ink} minTickGap={24} />
          <YAxis stroke="var(--ink-2)" tick={ink} width={56} domain={[bottom, top]} ticks={ticks} interval={0} tickFormatter={(height: number) => `${printShare(new Decimal(height), habits, { places: 0 })} %`} />
          <ReferenceLine y={upper.height} stroke="var(--ink)" strokeDasharray="7 4" label={{ value: upper.label, position: "insideBottomLeft", fill: "var(--ink)", fontSize: 12 }} />
          <ReferenceLine y={mean.height} stroke="var(--ink)" label={{ value: mean.label, position: "insideBottomLeft", fill: "var(--ink)", fontSize: 12 }} />
          <ReferenceLine y={lower.height} stroke="var(--ink)" strokeDasharray="7 4" label={{ value: lower.label, position: "insideTopLeft", fill: "var(--ink)", fontSize: 12 }} />
          <Tooltip formatter={(_value, _name, entry) => [(entry.payload as ControlPoint | undefined)?.yield ?? "", "usable"]} labelFormatter={(at) => dayAt(Number(at))}
            contentStyle={{ background: "var(--sheet)", border: "1px solid var(--ink)", borderRadius: 3, color: "var(--ink)" }} />
          <Line type="linear" dataKey="height" stroke="var(--rule-2)" strokeWidth={1.5} isAnimationActive={false} activeDot={false}
            dot={({ cx, cy, index }) => <g key={index} transform={`translate(${cx ?? 0} ${cy ?? 0})`}><Mark form={placed[index]?.form ?? "within"} /></g>} />
        </LineChart>
      </ResponsiveContainer>
      <ul className="control-key">
        <li><svg viewBox="-14 -6 28 12" aria-hidden="true"><Mark form="within" /></svg>within the limits</li>
        {points.some(({ form }) => form === "beyond") && <li><svg viewBox="-14 -6 28 12" aria-hidden="true"><Mark form="beyond" /></svg>beyond a limit</li>}
        {points.some(({ form }) => form === "run") && <li><svg viewBox="-14 -6 28 12" aria-hidden="true"><Mark form="run" /></svg>one of a run on one side</li>}
        <li><svg viewBox="-14 -6 28 12" aria-hidden="true"><path d="M-14 0H14" stroke="currentColor" strokeWidth="1.5" /></svg>mean of the tests</li>
        <li><svg viewBox="-14 -6 28 12" aria-hidden="true"><path d="M-14 0H14" stroke="currentColor" strokeWidth="1.5" strokeDasharray="7 4" /></svg>control limits</li>
      </ul>
    </figure>
  );
}

/** Whole per cents around everything drawn, with room for the words at the limits. */
function scaleOf(heights: readonly number[]): { readonly bottom: number; readonly top: number; readonly ticks: readonly number[] } {
  const percents = heights.map((height) => height * 100);
  const low = Math.min(...percents);
  const high = Math.max(...percents);
  const step = [1, 2, 5, 10, 20, 50].find((one) => (high - low) / one <= 6) ?? 100;
  const first = Math.floor((low - step / 2) / step);
  const last = Math.ceil((high + step / 2) / step);
  const ticks = Array.from({ length: last - first + 1 }, (_, index) => ((first + index) * step) / 100);
  return { bottom: (first * step) / 100, top: (last * step) / 100, ticks };
}

function Mark({ form }: { readonly form: PointForm }) {
  switch (form) {
    case "within": return <circle r="4" fill="var(--sheet)" stroke="var(--ink)" strokeWidth="1.8" />;
    case "beyond": return <path d="M0-6.5L6.5 0 0 6.5-6.5 0z" fill="var(--over)" stroke="var(--sheet)" />;
    case "run": return <rect x="-4.5" y="-4.5" width="9" height="9" fill="var(--ink)" />;
  }
}
