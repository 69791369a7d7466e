import { parseArgs } from "node:util";
import { readCostOption } from "@/lib/reliability/cost-option";
import { type UnitsRequest, unitsDocument } from "@/lib/reliability/units-document";
import { countsAnswer } from "./counts-answer";
import { readUnits } from "./read-units";

const UNUSABLE_INPUT = 2;
const USAGE =
  "Usage: npm run -s reliability -- UNITS.csv [--compare] [--weibull] [--shape SHAPE] [--settled TIME] [--grid WIDTH] [--modes] [--repeats] [--forecast DAYS [--cost MEAN,SD,CURRENCY[,ERROR]]], or REPORTED.csv --reported, or COUNTS.csv --counts [--times TIMES] [--interval WHOLE]";

/** `npm run -s reliability -- UNITS.csv …`: rows of group,entry,exit,status in, one document of curves out. */
async function main(): Promise<void> {
  const args = process.argv.slice(2);
  if (args.includes("--reported") || args.includes("--counts")) {
    const answer = countsAnswer(args);
    if (typeof answer === "string") return refuse(answer);
    process.stdout.write(`${JSON.stringify(answer)}\n`);
    return;
  }
  const call = readCall(args);
  if (call === null) return refuse(USAGE);
  const reading = await readUnits(call.file, {
    asksForUnits: call.request.repeats === true,
    cutBack: call.request.cutBack ?? 0,
  });
  if (reading.kind === "unusable") return refuse(reading.sentence);
  process.stdout.write(`${JSON.stringify(unitsDocument(reading.groups, call.request))}\n`);
}

/** The file and what is asked for, or null where the call makes no sense. */
function readCall(args: string[]): { file: string; request: UnitsRequest } | null {
  try {
    const { values, positionals } = parseArgs({
      args,
      allowPositionals: true,
      options: {
        compare: { type: "boolean" },
        weibull: { type: "boolean" },
        shape: { type: "string" },
        settled: { type: "string" },
        grid: { type: "string" },
        modes: { type: "boolean" },
        repeats: { type: "boolean" },
        forecast: { type: "string" },
        cost: { type: "string" },
      },
    });
    const [file, ...others] = positionals;
    const forecastHorizon = positiveOrNull(values.forecast);
    const assumedShape = positiveOrNull(values.shape);
    const cutBack = positiveOrNull(values.settled);
    const gridWidth = positiveOrNull(values.grid);
    if (gridWidth === "unusable") return null;
    if (file === undefined || others.length > 0 || cutBack === "unusable") return null;
    if (forecastHorizon === "unusable" || assumedShape === "unusable") return null;
    const costOfOne = values.cost === undefined ? null : readCostOption(values.cost);
    // A cost without a forecast has nothing to be the cost of.
    if (values.cost !== undefined && (costOfOne === null || forecastHorizon === null)) return null;
    const { compare = false, weibull = false, modes = false, repeats = false } = values;
    return {
      file,
      request: {
        ...{ compare, weibull, modes, repeats, assumedShape, gridWidth },
        ...{ cutBack: cutBack ?? 0, forecastHorizon, costOfOne },
      },
    };
  } catch {
    // parseArgs throws on options it does not know and on a missing value.
    return null;
  }
}

/** Null for "not given". */
function positiveOrNull(text: string | undefined): number | null | "unusable" {
  if (text === undefined) return null;
  const number = text.trim() === "" ? Number.NaN : Number(text);
  return number > 0 && Number.isFinite(number) ? number : "unusable";
}

function refuse(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
  process.exitCode = UNUSABLE_INPUT;
}

await main();
