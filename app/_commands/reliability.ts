import { parseArgs } from "node:util";
import { readCostOption } from "@/lib/reliability/cost-option";
import { type UnitsDocument, type UnitsRequest, unitsDocument } from "@/lib/reliability/units-document";
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
  if (typeof call === "string") return refuse(`${call} ${USAGE}`);
  const reading = await readUnits(call.file, {
    asksForUnits: call.request.repeats === true,
    cutBack: call.request.cutBack ?? 0,
  });
  if (reading.kind === "unusable") return refuse(reading.sentence);
  const answer = documentOf(reading.groups, call.request);
  if (typeof answer === "string") return refuse(answer);
  process.stdout.write(`${JSON.stringify(answer)}\n`);
}

interface Call {
  readonly file: string;
  readonly request: UnitsRequest;
}

/** The file and what is asked for, or in one sentence why the call makes no sense. */
function readCall(args: string[]): Call | string {
  const options = readOptions(args);
  if (typeof options === "string") return options;
  const { values, positionals } = options;
  const [file, ...others] = positionals;
  if (file === undefined) return "No file of units is named.";
  if (others.length > 0) return `One file of units is read at a time, and ${positionals.length} are named.`;
  const numbers = { forecast: values.forecast, shape: values.shape, settled: values.settled, grid: values.grid };
  for (const [option, text] of Object.entries(numbers))
    if (text !== undefined && positive(text) === null)
      return `--${option} is to be a number between ${LEAST_NUMBER} and ${MOST_NUMBER}, not ${text}.`;
  const forecastHorizon = positive(values.forecast);
  const costOfOne = values.cost === undefined ? null : readCostOption(values.cost);
  if (values.cost !== undefined && costOfOne === null)
    return `--cost is to be a mean, a standard deviation and a currency, as 340,120,EUR, not ${values.cost}.`;
  if (costOfOne !== null && forecastHorizon === null)
    return "--cost needs --forecast: without a forecast there is nothing to be the cost of.";
  const { compare = false, weibull = false, modes = false, repeats = false } = values;
  const [assumedShape, gridWidth] = [positive(values.shape), positive(values.grid)];
  return {
    file,
    request: {
      ...{ compare, weibull, modes, repeats, assumedShape, gridWidth },
      ...{ cutBack: positive(values.settled) ?? 0, forecastHorizon, costOfOne },
    },
  };
}

function readOptions(args: string[]) {
  try {
    return parseArgs({
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
  } catch (error) {
    // parseArgs throws on options it does not know and on a missing value, and says which; hints come after its first sentence,
    // some of them on lines of their own.
    if (!(error instanceof TypeError)) throw error;
    return `${error.message.split(/\.\s/)[0] ?? error.message}.`;
  }
}

/** No time, width or shape of any use lies beyond: powers of it would overflow. Chosen here, no source. */
const LEAST_NUMBER = 1e-9;
const MOST_NUMBER = 1e15;

/** Null for what is not given, or no such number. */
function positive(text: string | undefined): number | null {
  const number = text === undefined || text.trim() === "" ? Number.NaN : Number(text);
  return number >= LEAST_NUMBER && number <= MOST_NUMBER ? number : null;
}

/** Numbers that no law or test can be worked out from are unusable input too, and the part that met them says which. */
function documentOf(groups: UnitGroups, request: UnitsRequest): UnitsDocument | string {
  try {
    return unitsDocument(groups, request);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    return `The numbers of the file cannot be reckoned with: ${error.message}.`;
  }
}

type UnitGroups = Parameters<typeof unitsDocument>[0];

function refuse(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
  process.exitCode = UNUSABLE_INPUT;
}

await main();
