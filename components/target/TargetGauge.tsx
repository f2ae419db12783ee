/**
 * A dish against its target on a line: the tick is the target, a diamond to its right is over, a filled dot near, a
 * ring under; before a change a small ring with a line to where it goes. It shows distance in points at one scale for
 * all dishes, so rows compare; what lies beyond eight points is drawn at the end of the line, with an arrow. The
 * figures stand beside it in every table, and `label` says the same in words.
 */
import type { DishState } from "@/lib/menu";

export interface GaugeView {
  /** Points off target now: 2.5 is 2.5 points over. null: not known, and only the line is drawn. */
  readonly now: number | null;
  /** Points off target before a change; null where nothing is compared. */
  readonly was: number | null;
  readonly state: DishState;
  /** "32.5 % against a target of 30 %". */
  readonly label: string;
}

const MIDDLE = 66;
const PER_POINT = 7;
const MOST = 56;

function place(points: number): number {
  return MIDDLE + Math.max(-MOST, Math.min(MOST, points * PER_POINT));
}

export function TargetGauge({ now, was, state, label }: GaugeView) {
  const tone = state === "over" ? " over" : state === "near" ? " near" : "";
  const x = now === null ? null : place(now);
  const from = was === null ? null : place(was);
  const beyond = now !== null && Math.abs(now * PER_POINT) > MOST;
  return (
    <svg className={`gauge${tone}`} viewBox="0 0 132 20" role="img" aria-label={label}>
      <path d="M2 10H130" stroke="var(--rule-2)" />
      <path d={`M${MIDDLE} 2V18`} stroke="var(--ink)" strokeWidth="1.5" />
      {x !== null && from !== null && from !== x && (
        <>
          <path d={`M${from} 10H${x}`} stroke="currentColor" strokeWidth="2" />
          <circle cx={from} cy="10" r="3.2" fill="var(--sheet)" stroke="currentColor" strokeWidth="1.6" />
        </>
      )}
      {x !== null && (state === "over" ? <path d={`M${x} 4.5l5.5 5.5-5.5 5.5-5.5-5.5z`} fill="currentColor" />
        : state === "near" ? <circle cx={x} cy="10" r="4.4" fill="currentColor" stroke="currentColor" strokeWidth="1.6" />
        : <circle cx={x} cy="10" r="4.4" fill="var(--sheet)" stroke="currentColor" strokeWidth="1.6" />)}
      {beyond && now !== null && <path d={now > 0 ? "M124 5l5 5-5 5" : "M8 5l-5 5 5 5"} fill="none" stroke="currentColor" strokeWidth="1.6" />}
    </svg>
  );
}
