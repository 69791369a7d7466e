import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { kaplanMeier } from "@/lib/stats/kaplan-meier";
import type { LifeCount } from "@/lib/stats/life-counts";
import { LifeTally } from "@/lib/stats/life-tally";
import { logRank } from "@/lib/stats/log-rank";
import { fitWeibull } from "@/lib/stats/weibull-fit";
import { fleetColumns, REVISIONS } from "./fleet-columns";
import { RSession } from "./r-session";

const UNITS = 1_000_000;
const RUNS = 7;
/** Runs before the measured ones, on both sides alike: compilers and memory settle. */
const WARM_UP = 2;

type Fleet = ReturnType<typeof fleetColumns>;

interface Contest {
  readonly name: string;
  readonly against: string;
  readonly tolerance: number;
  /** Returns numbers in a fixed order, for the comparison with R's. */
  readonly ours: () => number[];
  /** R expression that is timed; leaves its result in `out`. */
  readonly theirs: string;
  /** R code that turns `out` into one vector in the same order. */
  readonly asVector: string;
}

/** Survival statistics of 1,000,000 packs of 12 revisions beside R survival, on the same rows in memory, in turn. */
export async function* rows(): AsyncIterable<object> {
  const fleet = fleetColumns(UNITS, 20_240_101, 0.1);
  const folder = mkdtempSync(path.join(tmpdir(), "reliability-bench-"));
  const r = new RSession();
  try {
    await giveToR(r, folder, fleet);
    for (const contest of contests(fleet)) yield await measured(r, folder, contest);
  } finally {
    r.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

function contests(fleet: Fleet): Contest[] {
  const lives = rowsOf(fleet);
  const survfit = (entry: string) => `out <- survfit(Surv(${entry}exit, failed) ~ group, conf.type = "log-log")`;
  const curve = `k <- out$n.event > 0; c(out$n.risk[k], out$surv[k], (out$surv * out$std.err)[k], out$lower[k], out$upper[k])`;
  return [
    {
      name: "Kaplan-Meier with limits, 12 revisions",
      against: "survfit(Surv(exit, failed) ~ group)",
      tolerance: 1e-9,
      ours: () => curveNumbers(counted(lives, "from the start")),
      theirs: survfit(""),
      asVector: curve,
    },
    {
      name: "Kaplan-Meier with limits and delayed entry, 12 revisions",
      against: "survfit(Surv(entry, exit, failed) ~ group)",
      tolerance: 1e-9,
      ours: () => curveNumbers(counted(lives, "from entry")),
      theirs: survfit("entry, "),
      asVector: curve,
    },
    {
      name: "log-rank test of 12 revisions",
      against: "survdiff(Surv(exit, failed) ~ group)",
      tolerance: 1e-9,
      ours: () => {
        const result = logRank(counted(lives, "from the start"));
        return result.kind === "test" ? [result.chiSquare, ...result.groups.map(({ expected }) => expected)] : [];
      },
      theirs: "out <- survdiff(Surv(exit, failed) ~ group)",
      asVector: "c(out$chisq, out$exp)",
    },
    {
      name: "12 censored Weibull fits",
      against: "survreg(Surv(exit, failed) ~ 1) for each group",
      tolerance: 1e-6,
      ours: () =>
        counted(lives, "from the start").flatMap((counts) => {
          const fit = fitWeibull(counts);
          return fit.kind === "fit" ? [fit.shape, fit.scale, fit.logLikelihood] : [];
        }),
      theirs: "out <- lapply(split(data.frame(exit, failed), group), function(d) survreg(Surv(exit, failed) ~ 1, d))",
      asVector: "unlist(lapply(out, function(f) c(1 / f$scale, exp(coef(f)), f$loglik[2])))",
    },
  ];
}

interface Life {
  readonly group: number;
  readonly entry: number;
  readonly exit: number;
  readonly failed: boolean;
}

/** Made outside what is timed: R has its columns in memory too. */
function rowsOf(fleet: Fleet): Life[] {
  return Array.from(fleet.exit, (exit, i) => ({
    group: fleet.group[i] ?? 0,
    entry: fleet.entry[i] ?? 0,
    exit,
    failed: fleet.failed[i] === 1,
  }));
}

/** Row by row through the tally that the command and the tests use: the product's own way from lives to counts. */
function counted(lives: readonly Life[], watched: "from entry" | "from the start"): LifeCount[][] {
  const tallies = Array.from({ length: REVISIONS }, () => new LifeTally());
  for (const { group, entry, exit, failed } of lives)
    tallies[group]?.add(watched === "from entry" ? entry : 0, exit, failed);
  return tallies.map((tally) => tally.counts());
}

function curveNumbers(groups: readonly (readonly LifeCount[])[]): number[] {
  const steps = groups.flatMap((counts) => kaplanMeier(counts).steps);
  return (["atRisk", "survival", "standardError", "lower", "upper"] as const).flatMap((key) =>
    steps.map((s) => s[key]),
  );
}

async function measured(r: RSession, folder: string, contest: Contest): Promise<object> {
  const [ours, theirs]: [number[], number[]] = [[], []];
  let numbers: number[] = [];
  for (let run = -WARM_UP; run < RUNS; run++) {
    const start = performance.now();
    numbers = contest.ours();
    const seconds = (performance.now() - start) / 1000;
    const rSeconds = await r.time(contest.theirs);
    if (run < 0) continue;
    ours.push(seconds);
    theirs.push(rSeconds);
  }
  const answer = path.join(folder, "answer");
  await r.run(`writeBin(as.double({ ${contest.asVector} }), "${answer}")`);
  const [oursSeconds, theirsSeconds] = [median(ours), median(theirs)];
  return {
    name: contest.name,
    oursSeconds,
    theirsSeconds,
    ratio: theirsSeconds / oursSeconds,
    against: contest.against,
    ...agreement(numbers, doublesIn(answer), contest.tolerance),
  };
}

function agreement(ours: readonly number[], theirs: readonly number[], tolerance: number) {
  const furthest = ours.reduce((worst, value, i) => {
    const expected = theirs[i] ?? Number.NaN;
    const off = Math.abs(value - expected) / (expected === 0 ? 1 : Math.abs(expected));
    return Math.max(off, worst);
  }, 0);
  return { agree: ours.length === theirs.length && furthest <= tolerance, numbers: ours.length, furthest, tolerance };
}

async function giveToR(r: RSession, folder: string, fleet: Fleet): Promise<void> {
  for (const [name, column] of Object.entries(fleet)) {
    writeFileSync(path.join(folder, name), Buffer.from(Float64Array.from(column).buffer));
    await r.run(`${name} <- readBin("${path.join(folder, name)}", "double", ${UNITS})`);
  }
  await r.run("suppressMessages(library(survival)); group <- factor(group)");
}

function doublesIn(file: string): number[] {
  const bytes = readFileSync(file);
  return Array.from(new Float64Array(bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength)));
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}
