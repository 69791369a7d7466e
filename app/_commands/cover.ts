import { readFile } from "node:fs/promises";
import { answerCoverCase } from "@/lib/warranty/cover-case";

const UNUSABLE_INPUT = 2;

/** `npm run -s cover -- CASES.json`: an array of cases in, the array of answers out, in the same order. */
async function main(): Promise<void> {
  const [file, ...rest] = process.argv.slice(2);
  if (file === undefined || rest.length > 0) return refuse("Name one file of cases: npm run -s cover -- CASES.json");
  const cases = await readCases(file);
  if (typeof cases === "string") return refuse(cases);
  process.stdout.write(`${JSON.stringify(cases.map(answerCoverCase))}\n`);
}

/** The cases, or the sentence that says why there are none. */
async function readCases(file: string): Promise<unknown[] | string> {
  let text: string;
  try {
    text = await readFile(file, "utf8");
  } catch {
    return `${file} cannot be read.`;
  }
  let cases: unknown;
  try {
    cases = JSON.parse(text.replace(/^\ufeff/, ""));
  } catch {
    return `${file} does not hold JSON.`;
  }
  return Array.isArray(cases) ? cases : `${file} holds no array of cases.`;
}

function refuse(sentence: string): void {
  process.stderr.write(`${sentence}\n`);
  process.exitCode = UNUSABLE_INPUT;
}

await main();
