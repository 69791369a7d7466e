import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

setFlagsFromString("--expose-gc");
/** The collector of this thread; the flag shows it in contexts made from now on only. */
const collect: unknown = runInNewContext("gc");

/**
 * Collects the memory of a file that was read. The columns of a long file take hundreds of megabytes outside the heap, which the
 * collector does not see: an idle thread would keep them until the next file comes, and then hold both.
 */
export function giveBack(): void {
  if (typeof collect === "function") collect();
}
