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
  // The seventh is in print as 48.40, 48.48 and 48.80.
  "Lieblein-Zelen bearing (7th obs 48.40)": { file: "lieblein_zelen_bearing", read: bearing(48.4) },
  "Lieblein-Zelen bearing (7th obs 48.48)": { file: "lieblein_zelen_bearing", read: bearing(48.48) },
  "Lieblein-Zelen bearing (7th obs 48.80)": { file: "lieblein_zelen_bearing", read: bearing(48.8) },
  "Bearing cage (Abernethy 1983)": { file: "bearing_cage", read: repeated("Failed") },
  "Nelson diesel fan (1969/1982)": { file: "nelson_fan", read: repeated("Fail") },
  "Gehan 6-MP": { file: "gehan_6mp", read: gehan("6-MP") },
  "Gehan control": { file: "gehan_6mp", read: gehan("control") },
  "aml Maintained": { file: "aml", read: aml("Maintained") },
  "aml Nonmaintained": { file: "aml", read: aml("Nonmaintained") },
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

function bearing(seventh: number) {
  return (rows: CheckRow[]) => rows.map((row, i): Life => [0, i === 6 ? seventh : numberIn(row, "megacycles"), 1]);
}

function aml(arm: string) {
  return (rows: CheckRow[]) =>
    rows.filter((row) => row.x === arm).map((row): Life => [0, numberIn(row, "time"), row.status === "1" ? 1 : 0]);
}

export const weibullSetNames = Object.keys(sources);

export function readWeibullSet(name: string): LifeCount[] | null {
  const source = sources[name];
  if (source === undefined) throw new Error(`no data set ${name}`);
  const rows = readCheckTable(`statistics/data/${source.file}.csv`);
  return rows === null ? null : countLives(source.read(rows));
}
