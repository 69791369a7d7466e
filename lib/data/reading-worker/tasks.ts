import type { MessagePort } from "node:worker_threads";
import type { UnusableFile } from "@/lib/readings/unusable-file";
import { giveBack } from "./give-back";
import { judgeBeside } from "./judge-together";
import { layOutColumns } from "./lay-out-columns";
import { readFile } from "./read-file";
import { readPieces } from "./read-pieces";
import type { AskColumns, Helped, ReadingTask, ReadReport, SharedBody, SharedJudging } from "./reading-task";

/** What a worker thread does with a task it is given. Runs outside the request thread; a fault rejects the task there. */
export async function runTask(task: ReadingTask): Promise<ReadReport | AskColumns | UnusableFile | null> {
  try {
    return await done(task);
  } finally {
    // In its own turn, when the result is on its way and nothing of the file is held any more.
    setImmediate(giveBack);
  }
}

async function done(task: ReadingTask): Promise<ReadReport | AskColumns | UnusableFile | null> {
  if (task.kind === "read") return readFile(task);
  if (task.kind === "lay-out") {
    await layOutColumns(task);
    return null;
  }
  Atomics.store(new Int32Array(task.started), 0, 1);
  await help(task.port);
  return null;
}

/** Waits for a body and for a judging to help with, which never come for a small file, until the other side closes. */
function help(port: MessagePort): Promise<void> {
  return new Promise((resolve, reject) => {
    port.once("close", resolve);
    port.on("message", (asked: SharedBody | SharedJudging) => {
      try {
        if (asked.kind === "judging") {
          // Before the reader's next file comes, which would otherwise be held beside this one.
          setImmediate(giveBack);
          return judgeBeside(asked);
        }
        const helped: Helped = { kind: "helped", read: readPieces(asked) };
        port.postMessage(helped);
      } catch (error) {
        reject(error);
        port.close();
      }
    });
  });
}
