import { MessageChannel, type MessagePort, receiveMessageOnPort } from "node:worker_threads";
import { type ReadingReport, reportReadings } from "@/lib/diagnosis/reading-report";
import type { Both } from "@/lib/readings/both";
import type { Judging, SharedJudging } from "./reading-task";

/** Thread that does the first of two pieces of work, and the one that does the second. */
type Side = 0 | 1;

/** Stands where the count of answers stood, once a thread has failed. */
const GAVE_UP = -1;

/** The other thread failed; what failed is its own to tell. */
class OtherThreadGaveUp extends Error {}

/**
 * Two threads that run the same judging of the same log, each with one side: of every two pieces each does its own, hands over the answer
 * and waits for the other's. `handed` counts the answers of both sides; it is made zero, for one judging alone.
 */
function sharedBetween(side: Side, port: MessagePort, handed: SharedArrayBuffer): Both {
  const counts = new Int32Array(handed);
  const other = 1 - side;
  let taken = 0;
  const handOver = (answer: unknown) => {
    port.postMessage(answer);
    Atomics.add(counts, side, 1);
    Atomics.notify(counts, side);
  };
  const take = () => {
    Atomics.wait(counts, other, taken);
    if (Atomics.load(counts, other) === GAVE_UP) throw new OtherThreadGaveUp("The other thread gave up its half");
    taken += 1;
    const received = receiveMessageOnPort(port);
    if (received === undefined) throw new Error("An answer was counted that never came");
    return received.message;
  };
  return <First, Second>(first: () => First, second: () => Second) => {
    if (side === 0) {
      const own = first();
      handOver(own);
      return [own, take() as Second] as const;
    }
    const own = second();
    handOver(own);
    return [take() as First, own] as const;
  };
}

/** The report of a log that a second thread judges as well: that thread waits at the other end of `helper`. */
export function judgeTogether(judging: Judging, helper: MessagePort): ReadingReport {
  const { port1, port2 } = new MessageChannel();
  const handed = new SharedArrayBuffer(8);
  const shared: SharedJudging = { ...judging, kind: "judging", port: port2, handed };
  helper.postMessage(shared, [port2]);
  return judgeSide(0, judging, port1, handed);
}

/** The second thread's half of a judging. Its report is the same as the first one's, and is left to it. */
export function judgeBeside({ port, handed, ...judging }: SharedJudging): void {
  try {
    judgeSide(1, judging, port, handed);
  } catch (fault) {
    if (!(fault instanceof OtherThreadGaveUp)) throw fault;
  } finally {
    port.close();
  }
}

/** Where one side fails the other is told, which would wait for it in vain. */
function judgeSide(side: Side, judging: Judging, port: MessagePort, handed: SharedArrayBuffer): ReadingReport {
  const { decoded, model, context, baseline } = judging;
  try {
    return reportReadings(decoded, model, context, baseline, sharedBetween(side, port, handed));
  } catch (fault) {
    const counts = new Int32Array(handed);
    Atomics.store(counts, side, GAVE_UP);
    Atomics.notify(counts, side);
    throw fault;
  }
}
