import { parseArgs } from "node:util";
import { type UnitsRequest, unitsDocument } from "@/lib/reliability/units-document";
import { readUnits } from "./read-units";

const UNUSABLE_INPUT = 2;
const USAGE = "Usage: npm run -s reliability -- UNITS.csv [--compare] [--weibull] [--forecast DAYS]";

/** `npm run -s reliability -- UNITS.csv …`: rows of group,entry,exit,status in, one document of curves out. */
async function main(): Promise<void> {
  const call = readCall(process.argv.slice(2));
  if (call === null) return refuse(USAGE);
  const reading = await readUnits(call.file);
  if (reading.kind === "unusable") return refuse(reading.sentence);
  process.stdout.write(`${JSON.stringify(unitsDocument(reading.groups, call.request))}\n`);
}

/** The file and what is asked for, or null where the call makes no sense. */
function readCall(args: string[]): { file: string; request: UnitsRequest } | null {
  try {
    const { values, positionals } = parseArgs({
      args,
      allowPositionals: true,
      options: { compare: { type: "boolean" }, weibull: { type: "boolean" }, forecast: { type: "string" } },
    });
    const [file, ...others] = positionals;
    const forecastHorizon = values.forecast === undefined ? null : Number(values.forecast);
    if (file === undefined || others.length > 0) return null;
    if (forecastHorizon !== null && !(forecastHorizon > 0 && Number.isFinite(forecastHorizon))) return null;
    return { file, request: { compare: values.compare ?? false, weibull: values.weibull ?? false, forecastHorizon } };
  } catch {
    // parseArgs throws on options it does not know and on a missing value.
    return null;
  }
}

function refuse(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
  process.exitCode = UNUSABLE_INPUT;
}

await main();
