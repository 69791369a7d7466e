import { unitsDocument } from "@/lib/reliability/units-document";
import { readUnits } from "./read-units";

const UNUSABLE_INPUT = 2;
const USAGE = "Name one file of units: npm run -s reliability -- UNITS.csv";

/** `npm run -s reliability -- UNITS.csv`: rows of group,entry,exit,status in, one document of survival curves out. */
async function main(): Promise<void> {
  const [file, ...rest] = process.argv.slice(2);
  if (file === undefined || file.startsWith("--") || rest.length > 0) return refuse(USAGE);
  const reading = await readUnits(file);
  if (reading.kind === "unusable") return refuse(reading.sentence);
  process.stdout.write(`${JSON.stringify(unitsDocument(reading.groups))}\n`);
}

function refuse(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
  process.exitCode = UNUSABLE_INPUT;
}

await main();
