import { readFileSync } from "node:fs";
import { parseArgs } from "node:util";
import { calibratedConfidence } from "@/lib/diagnosis/confidence-calibration";
import { type Fault, faults } from "@/lib/diagnosis/finding";
import { reliability } from "./reliability-table";

/**
 * `npx tsx tests/bench/diagnosis/fit-calibration.ts FINDINGS... [--check FILE]`: prints the table of
 * `confidence-calibration.ts`; with `--check` how the fitted table does on findings it was not fitted to.
 *
 * Findings come from `bench:diagnosis --raw --findings FILE`. Logistic calibration (Platt 1999) of each class's belief:
 * p = 1 / (1 + exp(-(a + b · logit(belief)))), by penalised maximum likelihood. All classes are fitted together first; each
 * class is then drawn towards that line, because most have but some dozen findings.
 */
interface Judged {
  readonly fault: Fault;
  readonly confidence: number;
  readonly right: boolean;
}

type Line = readonly [intercept: number, slope: number];

/** How far a class may lie from the line of all classes before its own findings speak: standard deviations. Chosen beforehand. */
const drawnWithin = 0.7;
/** Longest step of the search. */
const longestStep = 0.5;
/** And the line of all classes from leaving beliefs as they are. */
const allWithin = 2;

/**
 * Beliefs below this are not fitted: another finding explains theirs, and many wrong ones there would bend the line where it
 * matters. What the line says of them is checked with the others. Chosen before the check.
 */
const leastFitted = 0.3;

const { positionals, values } = parseArgs({ options: { check: { type: "string" } }, allowPositionals: true });
const findings = positionals.flatMap(readFindings).filter(({ confidence }) => confidence >= leastFitted);
const all = fitLine(findings, [0, 1], allWithin);
console.log(`// ${findings.length} findings; all classes together: [${all.map(inDigits).join(", ")}]`);
const lines = new Map<Fault, Line>();
for (const fault of faults) {
  const own = findings.filter((one) => one.fault === fault);
  const line = own.length === 0 ? ([0, 1] as const) : fitLine(own, all, drawnWithin);
  lines.set(fault, line);
  const right = own.filter((one) => one.right).length;
  console.log(`  "${fault}": [${line.map(inDigits).join(", ")}], // ${right} of ${own.length} right`);
}

if (values.check !== undefined) {
  const held = readFindings(values.check);
  printReliability("as believed", held);
  printReliability(
    "calibrated",
    held.map((one) => ({ ...one, confidence: calibratedConfidence(one.confidence, lines.get(one.fault) ?? [0, 1]) })),
  );
}

function readFindings(file: string): Judged[] {
  return readFileSync(file, "utf8")
    .split("\n")
    .filter((line) => line !== "")
    .map((line): Judged => JSON.parse(line));
}

function printReliability(title: string, held: readonly Judged[]): void {
  console.log(`// ${title}, held out:`);
  for (const row of reliability(held.map(({ confidence, right }) => ({ stated: confidence, right })))) {
    console.log(`//   ${row}`);
  }
}

function fitLine(own: readonly Judged[], towards: Line, within: number): Line {
  let [a, b] = towards;
  const pull = 1 / within ** 2;
  for (let step = 0; step < 200; step += 1) {
    let ga = -pull * (a - towards[0]);
    let gb = -pull * (b - towards[1]);
    let haa = pull;
    let hab = 0;
    let hbb = pull;
    for (const { confidence, right } of own) {
      const x = Math.log(confidence / (1 - confidence));
      const p = 1 / (1 + Math.exp(-(a + b * x)));
      const left = (right ? 1 : 0) - p;
      const weight = p * (1 - p);
      ga += left;
      gb += left * x;
      haa += weight;
      hab += weight * x;
      hbb += weight * x * x;
    }
    const determinant = haa * hbb - hab * hab;
    // Short steps: a full Newton step overshoots where all findings of a class share one belief.
    const stepA = (hbb * ga - hab * gb) / determinant;
    const stepB = (haa * gb - hab * ga) / determinant;
    const shorten = Math.min(1, longestStep / Math.hypot(stepA, stepB));
    a += shorten * stepA;
    b += shorten * stepB;
  }
  // A stronger belief must never mean a smaller chance.
  return [a, Math.max(0, b)];
}

function inDigits(value: number): string {
  return value.toFixed(2);
}
