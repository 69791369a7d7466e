import "server-only";
import { oneRoundAtATime } from "./one-round-at-a-time";
import { runDueAsSystem } from "./run-due";

/** Between two rounds; no period here is shorter than five minutes. Engineering default, no authority. */
const ROUND_MS = 60_000;

const startedKey = Symbol.for("returns-bench.due-loop");
const processWide = globalThis as typeof globalThis & { [startedKey]?: NodeJS.Timeout };

/**
 * Does what belongs to time every minute while this process runs: the embedded database lets no second process in, so the
 * server itself looks at the clock. A round that is still under way is not joined by the next. The timer keeps no process
 * alive.
 */
export function startDueLoop(): void {
  if (processWide[startedKey] !== undefined) return;
  const round = oneRoundAtATime(
    () => runDueAsSystem(),
    (error) => console.error("What is due could not be done:", error),
  );
  const timer = setInterval(round, ROUND_MS);
  timer.unref();
  processWide[startedKey] = timer;
}
