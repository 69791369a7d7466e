/**
 * `npm run -s bench -- NAME [options]`: runs one benchmark beside its rival and prints one JSON line a row; ends with 1 where a row says that
 * what it found does not agree with what it is held against. A new benchmark is one file that exports `rows`, and one line here.
 */
const benches: Readonly<Record<string, () => Promise<Bench>>> = {
  readings: () => import("./readings/rows"),
  fuzz: () => import("./readings/fuzz"),
  reliability: () => import("./reliability/rows"),
  "forecast-coverage": () => import("./reliability/forecast-coverage"),
  "side-by-side": () => import("./reliability/side-by-side"),
  serving: () => import("./serving/rows"),
  page: () => import("./reliability/page"),
  "signal-rates": () => import("./reliability/signal-rates"),
  "limits-coverage": () => import("./reliability/limits-coverage"),
  "young-bad-revision": () => import("./reliability/young-bad-revision"),
  "young-bad-bound": () => import("./reliability/young-bad-bound"),
  "reference-tables": () => import("./reliability/reference-tables"),
  "unlike-delays": () => import("./reliability/unlike-delays"),
};

export interface Bench {
  readonly rows: (options: readonly string[]) => AsyncIterable<object>;
}

const [name = "", ...options] = process.argv.slice(2);
const open = Object.hasOwn(benches, name) ? benches[name] : undefined;
if (open === undefined) {
  console.error(`Name a benchmark: ${Object.keys(benches).join(", ")}.`);
  process.exitCode = 2;
} else {
  const { rows } = await open();
  for await (const row of rows(options)) {
    console.log(JSON.stringify(row));
    if ("agree" in row && row.agree !== true) process.exitCode = 1;
  }
}
