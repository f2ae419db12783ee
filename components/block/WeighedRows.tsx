/** What has been weighed so far, each row with the ways to weigh more of it or to weigh it again. */
import { type Weighing, weightOf } from "@/lib/book";
import { type Habits, quantityText } from "@/lib/measure";

export interface WeighedRowsProps {
  readonly rows: readonly { readonly weighing: Weighing; readonly name: string }[];
  readonly habits: Habits;
  /** Key of what is on the scale now. */
  readonly current: string;
  readonly onPick: (key: string, doing: "more" | "again") => void;
}

export function WeighedRows({ rows, habits, current, onPick }: WeighedRowsProps) {
  return (
    <table>
      <caption className="visually-hidden">Weighed so far</caption>
      <tbody>
        {rows.map(({ weighing: { key, readings }, weighing, name }) => {
          const weight = weightOf(weighing, habits);
          return (
            <tr key={key} aria-current={key === current ? "true" : undefined}>
              <th scope="row">{name}{readings.length > 1 && <small className="quiet"> {readings.length} {readings.every(({ piece }) => piece) ? "pieces" : "goes"}</small>}</th>
              <td className="n">{weight === null ? "none today" : weight.ok ? quantityText(weight.value, habits) : "?"}</td>
              <td className="n"><button type="button" className="link" aria-label={`Weigh more of ${name}`} onClick={() => onPick(key, "more")}>more</button></td>
              <td className="n"><button type="button" className="link" aria-label={`Weigh ${name} again`} onClick={() => onPick(key, "again")}>again</button></td>
            </tr>
          );
        })}
      </tbody>
    </table>
  );
}
