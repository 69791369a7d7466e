import { parseArgs } from "node:util";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import { expectAskable, expectSound, hostileSeeds, mutated, packedSeeds } from "@/tests/support/hostile-readings";
import { decodeBytes } from "@/tests/support/pack-file";
import { plainModel } from "@/tests/support/plain-model";
import { seededRandom } from "@/tests/support/seeded-random";

/** One file in so many is also diagnosed, which takes longer than decoding it. */
const DIAGNOSED_EVERY = 20;
/** Files after which it is said how far it has come. */
const TOLD_EVERY = 50_000;
/** Inputs listed that failed; one is enough to know, some more show what they share. */
const FINDINGS_LISTED = 20;

/**
 * Mutated readings files, decoded from chunks cut at random and judged sound, and once more by what is proposed of their columns; one
 * in twenty is diagnosed as well. `--inputs N` and
 * `--seed N` choose how many and which. One row: how many gave a log, how many a refusal, and every input that failed.
 */
export async function* rows(options: readonly string[]): AsyncIterable<object> {
  const { values } = parseArgs({
    args: [...options],
    options: { inputs: { type: "string", default: "1000000" }, seed: { type: "string", default: "20240229" } },
  });
  const inputs = Number(values.inputs);
  const random = seededRandom(Number(values.seed));
  const seeds = [...hostileSeeds, ...packedSeeds];
  const findings: { input: number; fault: string; bytes: string }[] = [];
  let logs = 0;
  let diagnosed = 0;
  let slowestSeconds = 0;
  const start = performance.now();
  for (let input = 0; input < inputs; input++) {
    const bytes = mutated(seeds[input % seeds.length] ?? new Uint8Array(0), random);
    const begun = performance.now();
    try {
      const result = decodeBytes(bytes, {}, 1 + Math.floor(random() * 2 * bytes.length));
      expectSound(result);
      expectAskable(bytes);
      if (result.kind === "log") {
        logs++;
        if (logs % DIAGNOSED_EVERY === 0) {
          const { diagnosis } = reportReadings(result, { ...plainModel, groups: result.summary.groups });
          if (diagnosis.suggestion.reasons.length === 0) throw new Error("a suggestion without a reason");
          diagnosed++;
        }
      }
    } catch (error) {
      const base64 = Buffer.from(bytes).toString("base64");
      if (findings.length < FINDINGS_LISTED) findings.push({ input, fault: String(error), bytes: base64 });
    }
    slowestSeconds = Math.max(slowestSeconds, (performance.now() - begun) / 1000);
    if ((input + 1) % TOLD_EVERY === 0)
      console.error(`${input + 1} files, ${logs} logs, ${diagnosed} diagnosed, ${findings.length} failed`);
  }
  yield {
    name: "readings, mutated files",
    inputs,
    logs,
    refused: inputs - logs - findings.length,
    diagnosed,
    seconds: Math.round((performance.now() - start) / 1000),
    slowestSeconds: Number(slowestSeconds.toFixed(3)),
    findings,
  };
}
