import { writeFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { judgeTrial, type Verdict } from "./judge-trial";
import { makeTrial } from "./make-trial";
import { printReport, sayVerdict } from "./print-report";

/** `npm run -s bench:diagnosis -- [--packs N] [--seed S] [--from PLACE] [--case PLACE [--write FOLDER]]` */
const { values } = parseArgs({
  options: {
    packs: { type: "string", default: "1000" },
    seed: { type: "string", default: "1" },
    from: { type: "string", default: "0" },
    case: { type: "string" },
    write: { type: "string" },
  },
});
const seed = Number(values.seed);

if (values.case === undefined) {
  const verdicts: Verdict[] = [];
  const from = Number(values.from);
  for (let place = from; place < from + Number(values.packs); place += 1) {
    verdicts.push(judgeTrial(makeTrial(seed, place)));
    if (verdicts.length % 100 === 0) process.stderr.write(`${verdicts.length} packs judged\n`);
  }
  printReport(seed, verdicts);
} else {
  const trial = makeTrial(seed, Number(values.case));
  console.log(sayVerdict(trial, judgeTrial(trial)));
  if (values.write !== undefined) {
    writeFileSync(`${values.write}/pack-${seed}-${trial.place}.csv`, trial.text);
    writeFileSync(`${values.write}/model-${seed}-${trial.place}.json`, JSON.stringify(trial.bench.model));
  }
}
