/** The keys at the block: digits, the units of the scale, fractions, undo, and the one strong key that goes on. */
import type { Key } from "./typed-weight";

export interface KeypadProps {
  readonly units: readonly [string, string];
  readonly mark: string;
  /** What the strong key says: "Next part", "Weigh it", "Done". */
  readonly go: string;
  readonly onKey: (key: Key) => void;
  readonly onUndo: () => void;
  readonly onGo: () => void;
}

export function Keypad({ units, mark, go, onKey, onUndo, onGo }: KeypadProps) {
  const digit = (text: string) => <button key={text} type="button" onClick={() => onKey({ press: "digit", digit: text })}>{text}</button>;
  const unit = (text: string) => <button type="button" className="u2" onClick={() => onKey({ press: "unit", unit: text })}>{text}</button>;
  return (
    <div className="pad" role="group" aria-label="Keys">
      {["7", "8", "9"].map(digit)}{unit(units[0])}
      {["4", "5", "6"].map(digit)}{unit(units[1])}
      {["1", "2", "3"].map(digit)}<button type="button" className="u2" aria-label="Quarters: a quarter, a half, three quarters" onClick={() => onKey({ press: "fraction" })}>¼ ½ ¾</button>
      {digit("0")}<button type="button" aria-label={mark === "," ? "Decimal comma" : "Decimal point"} onClick={() => onKey({ press: "point" })}>{mark}</button>
      <button type="button" className="u2" onClick={onUndo}>undo</button>
      <button type="button" className="go" onClick={onGo}>{go}</button>
    </div>
  );
}
