/**
 * `npm run soak`: two processes of the app on a PostgreSQL of their own, sixteen people saving through both for a minute,
 * and one process after the other killed or stopped at random moments; then everything that anybody was told is held
 * against the record, and what both show against a recomputation. Ends with a failure if anything is off.
 *
 *   npm run soak -- --seconds 600 --editors 16 --every 5
 */
import { parseArgs } from "node:util";
import { startPostgres } from "../machine.mjs";
import { TwoProcesses, editTogether, faultsOf, restartInTurns } from "./two-processes";

const { values: asked } = parseArgs({ options: { seconds: { type: "string", default: "60" }, editors: { type: "string", default: "16" }, every: { type: "string", default: "5" } } });
const [seconds, editors, every] = [Number(asked.seconds), Number(asked.editors), Number(asked.every)];
if (![seconds, editors, every].every((value) => value > 0)) throw new Error("--seconds, --editors and --every are numbers above 0.");

const server = await startPostgres();
if (server.stop === undefined) throw new Error(server.missing);
let two: TwoProcesses | undefined;
try {
  const started = await TwoProcesses.start(server.url);
  two = started.two;
  const until = Date.now() + seconds * 1000;
  let restarted = false;
  const [saves, restarts] = await Promise.all([
    editTogether(two, started.owner, editors, () => restarted && Date.now() >= until),
    restartInTurns(two, { times: 2, until, every: every * 1000 }).finally(() => { restarted = true; }),
  ]);
  const count = (as: string): number => saves.filter(({ told }) => told.as === as).length;
  console.log(`${server.version}, two processes, ${editors} people, ${seconds} s; ${restarts.killed} killed, ${restarts.asked} stopped.`);
  console.log(`${count("recorded")} changes acknowledged, ${count("stale")} told that somebody was faster, ${count("nothing")} that nobody was told about.`);
  const faults = await faultsOf(server.url, two, started.owner, saves);
  for (const fault of faults.slice(0, 40)) console.log(`! ${fault}`);
  console.log(faults.length === 0 ? "Every acknowledged change is in the record, on top of what its editor had seen; both processes show what a recomputation says." : `${faults.length} faults.`);
  if (faults.length > 0) process.exitCode = 1;
} finally {
  await two?.stop();
  await server.stop();
}
