import { progressOf } from "./reading-task";

/** How often it is asked whether a file is being read yet. */
const LOOK_EVERY_MS = 50;

/** Calls `stop` once a file has been read for `seconds`; the time it waits for a thread counts for nothing. Returns how to call that off. */
export function limitWhileReading(progress: SharedArrayBuffer, seconds: number, stop: () => void): () => void {
  let limit: NodeJS.Timeout | undefined;
  const look = setInterval(() => {
    if (progressOf(progress, 0).stage === "waiting") return;
    clearInterval(look);
    limit = setTimeout(stop, seconds * 1000);
  }, LOOK_EVERY_MS);
  return () => {
    clearInterval(look);
    clearTimeout(limit);
  };
}
