import { type ChildProcessWithoutNullStreams, spawn } from "node:child_process";
import { createInterface } from "node:readline";

/** An R process kept open, so that its start and the reading of data are outside what is measured. */
export class RSession {
  private readonly process: ChildProcessWithoutNullStreams;
  private readonly lines: AsyncIterator<string>;

  constructor() {
    this.process = spawn("R", ["--vanilla", "--slave"]);
    this.lines = createInterface({ input: this.process.stdout })[Symbol.asyncIterator]();
    this.process.stderr.pipe(process.stderr);
  }

  /** Runs R code and gives the lines it printed. */
  async run(code: string): Promise<string[]> {
    this.process.stdin.write(`${code}\ncat("\\n<done>\\n")\n`);
    const printed: string[] = [];
    for (;;) {
      const { value, done } = await this.lines.next();
      if (done) throw new Error(`R ended early; it printed: ${printed.join(" | ")}`);
      if (value === "<done>") return printed.filter((line) => line !== "");
      printed.push(value);
    }
  }

  /** Seconds by R's own system.time around an expression alone. */
  async time(expression: string): Promise<number> {
    const printed = await this.run(`cat(system.time({ ${expression} })[["elapsed"]])`);
    return Number(printed.at(-1));
  }

  close(): void {
    this.process.stdin.end("q()\n");
  }
}
