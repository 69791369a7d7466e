import { parseArgs } from "node:util";
import { type CountsDocument, countsDocument } from "@/lib/reliability/counts-document";
import { type ReportedDocument, reportedDocument } from "@/lib/reliability/reported-document";
import { readNumberRows } from "./read-number-rows";

const USAGE =
  "Usage: npm run -s reliability -- REPORTED.csv --reported (columns period,delay,count), or COUNTS.csv --counts [--times TIMES] [--interval WHOLE] (columns count,expected).";
/** A doubling is what a watch is set to find where nothing else is asked. Common practice, no source. */
const USUAL_TIMES = 2;
/** With one failure expected a period: a false signal in hundreds of periods. Engineering default, no authority. */
const USUAL_INTERVAL = 5;
/** The exact run length is a system of so many equations, a hundred for each unit of the interval. */
const LARGEST_INTERVAL = 10;

/** What a file of counts says, by period and delay or by period alone; or the sentence why it says nothing. */
export function countsAnswer(args: string[]): ReportedDocument | CountsDocument | string {
  const call = readCall(args);
  return call === null ? USAGE : call.reported ? reported(call.file) : counts(call);
}

interface CountsCall {
  readonly file: string;
  readonly reported: boolean;
  readonly times: number;
  readonly interval: number;
}

function readCall(args: string[]): CountsCall | null {
  try {
    const { values, positionals } = parseArgs({
      args,
      allowPositionals: true,
      options: {
        reported: { type: "boolean" },
        counts: { type: "boolean" },
        times: { type: "string" },
        interval: { type: "string" },
      },
    });
    const [file, ...others] = positionals;
    const { reported = false, counts: asksForCounts = false } = values;
    const times = Number(values.times ?? USUAL_TIMES);
    const interval = Number(values.interval ?? USUAL_INTERVAL);
    const isWhole = Number.isSafeInteger(interval) && interval > 0 && interval <= LARGEST_INTERVAL;
    if (file === undefined || others.length > 0 || reported === asksForCounts) return null;
    return times > 1 && Number.isFinite(times) && isWhole ? { file, reported, times, interval } : null;
  } catch {
    // parseArgs throws on options it does not know and on a missing value.
    return null;
  }
}

function reported(file: string): ReportedDocument | string {
  const reading = readNumberRows(file, ["period", "delay", "count"]);
  if (reading.kind === "unusable") return reading.sentence;
  const document = reportedDocument(reading.rows);
  return "refused" in document ? `${file} cannot be used: ${document.refused}` : document;
}

function counts({ file, times, interval }: CountsCall): CountsDocument | string {
  const reading = readNumberRows(file, ["count", "expected"]);
  if (reading.kind === "unusable") return reading.sentence;
  const wrong = reading.rows.findIndex(({ count, expected }) => !Number.isSafeInteger(count) || expected === 0);
  if (wrong >= 0)
    return `${file} cannot be used: line ${wrong + 2}: its count must be whole and its expected number above 0.`;
  const total = reading.rows.reduce((sum, { expected }) => sum + expected, 0);
  if (total > 1000) return `${file} cannot be used: more than 1000 failures were to be expected over all its periods.`;
  return countsDocument(reading.rows, times, interval);
}
