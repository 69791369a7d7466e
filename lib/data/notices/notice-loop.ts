import "server-only";
import { readEnvironment } from "../env";
import { oneRoundAtATime } from "../returns/one-round-at-a-time";
import { emptyOutbox } from "./notice-post";

/** Between two rounds of the post. Engineering default, no authority. */
const ROUND_MS = 30_000;

const startedKey = Symbol.for("returns-bench.notice-loop");
const processWide = globalThis as typeof globalThis & { [startedKey]?: NodeJS.Timeout | null };

/**
 * Empties the outbox every half minute while this process runs, where a mail server is set up. The embedded database
 * lets no second process in, so the server itself is the postman. A round of a slow mail server, longer than the half minute, is
 * not joined by the next. The timer keeps no process alive.
 */
export function startNoticeLoop(): void {
  if (processWide[startedKey] !== undefined) return;
  processWide[startedKey] = null;
  if (readEnvironment().smtpUrl === null) return;
  const round = oneRoundAtATime(
    () => emptyOutbox(),
    (error) => console.error("The outbox could not be emptied:", error),
  );
  const timer = setInterval(round, ROUND_MS);
  timer.unref();
  processWide[startedKey] = timer;
}
