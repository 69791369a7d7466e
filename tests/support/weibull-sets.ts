import type { LifeCount } from "@/lib/stats/life-counts";
import { type CheckRow, numberIn, readCheckTable } from "./check-table";
import { countLives, type Life } from "./lives";

/** Data sets of the Weibull reference table by the name they have there. */
const sources: Record<string, { file: string; read: (rows: CheckRow[]) => Life[] }> = {
  "NIST e-Handbook 8.4.1.3": {
    file: "nist_weibull_apr413",
    read: (rows) => rows.map((row) => [0, numberIn(row, "time"), row.failed === "1" ? 1 : 0]),
  },
  "Shock absorber (O'Connor 1985; M&E 1998)": {
    file: "shock_absorber",
    read: (rows) => rows.map((row) => [0, numberIn(row, "miles"), row.event === "Failure" ? 1 : 0]),
  },
  "Lieblein-Zelen bearing (7th obs 48.40)": {
    file: "lieblein_zelen_bearing",
    read: (rows) => rows.map((row, i) => [0, i === 6 ? 48.4 : numberIn(row, "megacycles"), 1]),
  },
  "Bearing cage (Abernethy 1983)": { file: "bearing_cage", read: repeated("Failed") },
  "Nelson diesel fan (1969/1982)": { file: "nelson_fan", read: repeated("Fail") },
  "Gehan 6-MP": { file: "gehan_6mp", read: gehan("6-MP") },
  "Gehan control": { file: "gehan_6mp", read: gehan("control") },
  "lung (all)": {
    file: "lung",
    read: (rows) => rows.map((row) => [0, numberIn(row, "time"), row.status === "2" ? 1 : 0]),
  },
};

function repeated(failed: string) {
  return (rows: CheckRow[]) =>
    rows.flatMap((row) =>
      Array.from(
        { length: numberIn(row, "count") },
        (): Life => [0, numberIn(row, "hours"), row.event === failed ? 1 : 0],
      ),
    );
}

function gehan(arm: string) {
  return (rows: CheckRow[]) =>
    rows.filter((row) => row.treat === arm).map((row): Life => [0, numberIn(row, "time"), row.cens === "1" ? 1 : 0]);
}

export const weibullSetNames = Object.keys(sources);

export function readWeibullSet(name: string): LifeCount[] | null {
  const source = sources[name];
  if (source === undefined) throw new Error(`no data set ${name}`);
  const rows = readCheckTable(`statistics/data/${source.file}.csv`);
  return rows === null ? null : countLives(source.read(rows));
}
