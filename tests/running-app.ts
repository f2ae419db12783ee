/**
 * The app, started by the same command a user types (`node app/start.mjs`), on a free port and a data folder of its own.
 * For tests that need it from outside: browser, durability, load. The pages must have been built.
 */
import { spawn } from "node:child_process";
import net from "node:net";

export interface RunningApp {
  readonly url: string;
  readonly dataFolder: string;
  /** The process that answers. */
  readonly pid: number;
  /** Stops it as Ctrl-C would, waits until it is gone and returns its exit status. */
  stop(): Promise<number | null>;
  /** Kills it outright, the command and whatever it started, and waits until all are gone. */
  kill(): Promise<void>;
  /** Everything it has printed so far. */
  said(): string;
}

/** Starts the app on `dataFolder` and waits until it answers. `env` is laid over the environment. */
export async function startApp(dataFolder: string, env: Readonly<Record<string, string>> = {}): Promise<RunningApp> {
  const { app, ready } = await launchApp(dataFolder, env);
  await ready;
  return app;
}

/** As `startApp`, without waiting: for who wants to end it before it answers. `ready` fails when it ends instead. */
export async function launchApp(dataFolder: string, env: Readonly<Record<string, string>> = {}): Promise<{ readonly app: RunningApp; readonly ready: Promise<void> }> {
  const port = env["PORT"] ?? String(await freePort());
  const url = `http://127.0.0.1:${port}`;
  const child = spawn(process.execPath, ["app/start.mjs"], {
    env: { ...process.env, HOST: "127.0.0.1", DATA_DIR: dataFolder, DATABASE_URL: "", ...env, PORT: port },
    stdio: ["ignore", "pipe", "pipe"],
    detached: true,
  });
  let said = "";
  const gone = new Promise<number | null>((resolve) => child.once("close", (status) => { resolve(status); }));
  const ready = new Promise<void>((resolve, reject) => {
    const listen = (piece: Buffer): void => {
      said += piece.toString();
      if (said.includes(url)) resolve();
    };
    child.stdout.on("data", listen);
    child.stderr.on("data", listen);
    void gone.then((status) => { reject(new Error(`The app ended with ${status} instead of starting:\n${said}`)); });
  });
  ready.catch(() => undefined);
  const signal = (name: NodeJS.Signals): void => {
    // The whole group: the command and the server it started.
    if (child.pid !== undefined && child.exitCode === null && child.signalCode === null) process.kill(-child.pid, name);
  };
  const app: RunningApp = {
    url,
    dataFolder,
    pid: child.pid ?? 0,
    stop: () => {
      signal("SIGTERM");
      return gone;
    },
    kill: async () => {
      signal("SIGKILL");
      await gone;
    },
    said: () => said,
  };
  return { app, ready };
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() => { resolve(typeof address === "object" && address !== null ? address.port : 0); });
    });
  });
}
