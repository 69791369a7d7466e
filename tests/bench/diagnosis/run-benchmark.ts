import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { judgeTrial, type Verdict } from "./judge-trial";
import { isHealthyPlace, makeTrial } from "./make-trial";
import { printReport, sayVerdict } from "./print-report";

/**
 * `npm run -s bench:diagnosis -- [--packs N] [--seed S] [--from PLACE] [--healthy] [--raw] [--findings FILE] [--case PLACE [--write FOLDER]]`
 *
 * `--healthy` judges sound packs only, so that a rare false alarm is counted over many. `--findings` writes every finding
 * with its confidence and whether it is right, one JSON line each: what `fit-calibration.ts` reads, with `--raw` as the
 * rules believe it.
 */
const { values } = parseArgs({
  options: {
    packs: { type: "string", default: "1000" },
    seed: { type: "string", default: "1" },
    from: { type: "string", default: "0" },
    healthy: { type: "boolean", default: false },
    findings: { type: "string" },
    raw: { type: "boolean", default: false },
    case: { type: "string" },
    write: { type: "string" },
  },
});
const seed = Number(values.seed);

if (values.case === undefined) {
  const verdicts: Verdict[] = [];
  const from = Number(values.from);
  for (let place = from; verdicts.length < Number(values.packs); place += 1) {
    if (values.healthy && !isHealthyPlace(place)) continue;
    verdicts.push(judgeTrial(makeTrial(seed, place), values.raw));
    if (verdicts.length % 100 === 0) process.stderr.write(`${verdicts.length} packs judged\n`);
  }
  if (values.findings !== undefined) writeFileSync(values.findings, findingLines(verdicts));
  printReport(seed, verdicts);
} else {
  const trial = makeTrial(seed, Number(values.case));
  console.log(sayVerdict(trial, judgeTrial(trial)));
  if (values.write !== undefined) {
    writeFileSync(`${values.write}/pack-${seed}-${trial.place}.csv`, trial.text);
    writeFileSync(`${values.write}/model-${seed}-${trial.place}.json`, JSON.stringify(trial.bench.model));
  }
}

function findingLines(verdicts: readonly Verdict[]): string {
  const lines = verdicts.flatMap(({ place, findings, right }) =>
    findings.map(({ fault, confidence }, at) =>
      JSON.stringify({ seed, place, at, fault, confidence, right: right[at] === true }),
    ),
  );
  return `${lines.join("\n")}\n`;
}
