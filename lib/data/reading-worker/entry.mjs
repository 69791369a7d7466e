// Entry of a worker thread. Plain JavaScript, because a thread starts without the bundler: it lets the thread read TypeScript first.
import os from "node:os";
import { register } from "tsx/esm/api";

// On Linux this means the calling thread alone, elsewhere the whole process: reading a file must not slow the pages down.
if (process.platform === "linux") os.setPriority(Number(process.argv[2]));

register();
const { runTask } = await import("./tasks.ts");

export default runTask;
