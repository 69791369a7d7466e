import { spawn } from "node:child_process";
import { createInterface } from "node:readline";
import { z } from "zod";

const answerSchema = z.object({ seconds: z.number(), rows: z.number(), version: z.string() });

export type RivalAnswer = z.infer<typeof answerSchema>;

interface Order {
  readonly file: string;
  /** "round_trip" reads to the last bit; the default of pandas is faster and may be off by the last one. */
  readonly precision?: "round_trip";
  readonly out?: string;
}

/** A Python of the system with pandas, kept running so that its start is not counted. PYTHON names another. */
export function startPandas() {
  const python = spawn(process.env.PYTHON ?? "/usr/bin/python3", ["-u", "tests/bench/readings/pandas-rival.py"], {
    stdio: ["pipe", "pipe", "inherit"],
  });
  const lines = createInterface({ input: python.stdout })[Symbol.asyncIterator]();
  return {
    async read(order: Order): Promise<RivalAnswer> {
      python.stdin.write(`${JSON.stringify(order)}\n`);
      const { value, done } = await lines.next();
      if (done === true)
        throw new Error("pandas did not answer: is it installed? Name a Python that has it with PYTHON");
      return answerSchema.parse(JSON.parse(value));
    },
    stop: () => python.kill(),
  };
}
