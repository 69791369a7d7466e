import { readFile, rm, stat } from "node:fs/promises";
import { getPriority } from "node:os";
import { parseArgs } from "node:util";
import { decodeFile } from "@/lib/data/reading-worker/decode-file";
import { createReadingPool, defaultReadingLimits } from "@/lib/data/reading-worker/reading-pool";
import { newProgress } from "@/lib/data/reading-worker/reading-task";
import { compare, secondsOf } from "../side-by-side";
import { longLogFile, longLogModel } from "./long-log";
import { startPandas } from "./pandas-rival";

/**
 * A long readings file, from its bytes on disk to the suggestion, beside pandas.read_csv on the same file, which only reads it.
 * `--rows N`, `--groups N` and `--runs N` choose another size.
 */
export async function* rows(options: readonly string[]): AsyncIterable<object> {
  const { values } = parseArgs({
    args: [...options],
    options: {
      rows: { type: "string", default: "1000000" },
      groups: { type: "string", default: "20" },
      runs: { type: "string", default: "5" },
    },
  });
  const groups = Number(values.groups);
  const runs = Number(values.runs);
  const file = await longLogFile(Number(values.rows), groups);
  const sizeBytes = (await stat(file)).size;
  const model = { ...longLogModel, groups };
  // Beside a rival that stands back no further than this process, neither do the threads.
  const pool = createReadingPool({ ...defaultReadingLimits, niceness: getPriority() });
  let peakRssMb = 0;
  const pandas = startPandas();
  const size = `${Number(values.rows).toLocaleString("en-GB")} rows x ${groups + 10} columns`;
  try {
    const theirs = async () => (await pandas.read({ file })).seconds;
    const { version } = await pandas.read({ file });
    const against = `pandas ${version} read_csv, C engine, reading only`;
    const suggest = async () => {
      const answer = await pool.readFile({ path: file, sizeBytes, model, context: {} });
      if (answer.kind !== "report") throw new Error(`not read: ${answer.kind}`);
      peakRssMb = peakRssMbSoFar();
    };
    const decode = () =>
      decodeFile({
        path: file,
        sizeBytes,
        model,
        mapping: undefined,
        builtOn: null,
        progress: newProgress(),
        helper: null,
      });
    const agree = () => agreesWithPandas(file, decode, pandas);
    yield {
      ...(await compare(
        { name: `readings, ${size}: file to suggestion`, against, ours: () => secondsOf(suggest), theirs, agree },
        runs,
      )),
      peakRssMb,
    };
    yield await compare(
      { name: `readings, ${size}: file to columns, one thread`, against, ours: () => secondsOf(decode), theirs, agree },
      runs,
    );
  } finally {
    pandas.stop();
    await pool.close();
  }
}

/** Of this process and all its threads since its start. */
function peakRssMbSoFar(): number {
  return Math.round(process.resourceUsage().maxRSS / 1024);
}

/** Every number we read, against pandas with `float_precision="round_trip"`, to the last bit. */
async function agreesWithPandas(
  file: string,
  decode: () => ReturnType<typeof decodeFile>,
  pandas: ReturnType<typeof startPandas>,
): Promise<boolean | string> {
  const decoded = await decode();
  if (decoded.kind === "unusable") return decoded.sentence;
  const { log } = decoded;
  const out = `${file}.columns`;
  const answer = await pandas.read({ file, precision: "round_trip", out });
  if (answer.rows !== log.rows) return `${log.rows} rows, theirs ${answer.rows}`;
  const bytes = await readFile(out);
  await rm(out);
  const none = new Float64Array(0);
  const ours = [
    log.timeS,
    log.packVoltageV,
    log.currentA,
    ...log.cellVoltagesV,
    ...log.temperatures.map(({ valuesC }) => valuesC),
    log.mosfetTemperatureC ?? none,
    log.socPercent ?? none,
    log.cycleCount ?? none,
    log.protectionFlags ?? none,
  ];
  for (const [at, column] of ours.entries()) {
    const theirs = new Float64Array(bytes.buffer, bytes.byteOffset + 8 * at * log.rows, log.rows);
    const row = column.findIndex((value, index) => value !== theirs[index]);
    if (row >= 0 || column.length !== log.rows)
      return `column ${at + 1}, row ${row}: ${column[row]}, theirs ${theirs[row]}`;
  }
  return true;
}
