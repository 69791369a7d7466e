import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { seededRandom } from "@/tests/support/seeded-random";

/**
 * The reliability command beside R survival on random unit files with ties, delayed entry and few failures: every number both
 * print, compared. `npm run -s bench -- side-by-side [FILES]`. One JSON line a file; exit as the runner does.
 */
const FILES = 20;
const RELATIVE = 1e-9;
/** survreg stops where its likelihood moves by 1e-12 of itself, which leaves about six digits of shape and scale. */
const RELATIVE_FIT = 1e-6;

const R_CODE = `
suppressMessages(library(survival)); options(warn = -1)
d <- read.csv(commandArgs(TRUE)[1]); d$group <- factor(d$group, levels = unique(d$group)); d$entry[is.na(d$entry)] <- 0
p <- function(tag, x) cat(tag, formatC(x, digits = 16, format = "g"), "\\n")
for (g in levels(d$group)) {
  e <- d[d$group == g, ]; f <- survfit(Surv(entry, exit, status) ~ 1, e, conf.type = "log-log"); k <- f$n.event > 0
  for (i in which(k)) p(paste0("survival|", g), c(f$time[i], f$n.risk[i], f$n.event[i], f$surv[i], f$surv[i] * f$std.err[i], f$lower[i], f$upper[i]))
  for (i in which(k)) p(paste0("nelsonAalen|", g), c(f$time[i], sum((f$n.event / f$n.risk)[seq_len(i)]), sqrt(sum((f$n.event / f$n.risk^2)[seq_len(i)]))))
  q <- poisson.test(sum(e$status), sum(e$exit - e$entry)); p(paste0("rate|", g), c(q$estimate, q$conf.int))
  if (all(e$entry == 0)) { w <- survreg(Surv(exit, status) ~ 1, e, control = survreg.control(rel.tolerance = 1e-13, maxiter = 200)); p(paste0("weibull|", g), c(1 / w$scale, exp(coef(w)), w$loglik[2])) }
  h <- coxph(Surv(entry, exit, status) ~ I(group == g), d, control = coxph.control(eps = 1e-13, iter.max = 100)); p(paste0("hazardRatio|", g), exp(coef(h)))
}
if (all(d$entry == 0)) { s <- survdiff(Surv(exit, status) ~ group, d); p("chiSquare|all", s$chisq); for (i in seq_along(s$n)) p(paste0("expected|", levels(d$group)[i]), s$exp[i]) }
`;

export async function* rows([count = String(FILES)]: readonly string[]): AsyncIterable<object> {
  const folder = mkdtempSync(path.join(tmpdir(), "side-by-side-"));
  try {
    writeFileSync(path.join(folder, "side.R"), R_CODE);
    for (let seed = 1; seed <= Number(count); seed++) {
      const file = path.join(folder, `units-${seed}.csv`);
      const hasEntries = seed % 2 === 0;
      writeFileSync(file, unitsFile(seed, hasEntries));
      yield { name: `units file ${seed}`, delayedEntry: hasEntries, ...compared(oursOf(file), theirsOf(folder, file)) };
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Two to five groups of 20 to 400 units on 15 to 200 distinct whole ages: many ties, and failures at ages others leave at. */
function unitsFile(seed: number, hasEntries: boolean): string {
  const uniform = seededRandom(seed);
  const lines = ["group,entry,exit,status"];
  const ages = 15 + Math.floor(185 * uniform());
  const groups = 2 + Math.floor(4 * uniform());
  for (let g = 0; g < groups; g++) {
    const units = 20 + Math.floor(380 * uniform());
    const failing = 0.05 + 0.6 * uniform();
    for (let unit = 0; unit < units; unit++) {
      const entry = hasEntries && uniform() < 0.4 ? Math.floor(0.4 * ages * uniform()) : 0;
      const exit = entry + 1 + Math.floor((ages - entry) * uniform());
      lines.push(`G${g},${entry === 0 ? "" : entry},${exit},${uniform() < failing ? 1 : 0}`);
    }
  }
  return `${lines.join("\n")}\n`;
}

type Numbers = Map<string, number[][]>;

function add(numbers: Numbers, tag: string, values: number[]): void {
  const known = numbers.get(tag) ?? [];
  known.push(values);
  numbers.set(tag, known);
}

function theirsOf(folder: string, file: string): Numbers {
  const { stdout, status, stderr } = spawnSync("Rscript", [path.join(folder, "side.R"), file], { encoding: "utf8" });
  if (status !== 0) throw new Error(stderr);
  const numbers: Numbers = new Map();
  for (const line of stdout.trim().split("\n")) {
    const [tag = "", ...values] = line.trim().split(/\s+/);
    add(numbers, tag, values.map(Number));
  }
  return numbers;
}

function oursOf(file: string): Numbers {
  const command = ["--import", "tsx", "app/_commands/reliability.ts", file, "--compare", "--weibull"];
  const { stdout, status, stderr } = spawnSync(process.execPath, command, { encoding: "utf8", maxBuffer: 1e9 });
  if (status !== 0) throw new Error(stderr);
  const document = JSON.parse(stdout);
  const numbers: Numbers = new Map();
  for (const { group, survival, nelsonAalen, rate, weibull } of document.groups) {
    for (const s of survival)
      add(numbers, `survival|${group}`, [s.age, s.atRisk, s.failures, s.survival, s.standardError, s.lower, s.upper]);
    for (const h of nelsonAalen) add(numbers, `nelsonAalen|${group}`, [h.age, h.cumulativeHazard, h.standardError]);
    add(numbers, `rate|${group}`, [rate.rate, rate.lower, rate.upper]);
    if ("shape" in weibull) add(numbers, `weibull|${group}`, [weibull.shape, weibull.scale, weibull.logLikelihood]);
  }
  add(numbers, "chiSquare|all", [document.comparison.chiSquare]);
  for (const { group, expected, hazardRatio } of document.comparison.groups) {
    add(numbers, `expected|${group}`, [expected]);
    add(numbers, `hazardRatio|${group}`, [hazardRatio.ratio]);
  }
  return numbers;
}

/** What R prints must be in ours; at survival 0 R has no standard error and no limits, so nothing is compared there. */
function compared(ours: Numbers, theirs: Numbers): object {
  let [count, furthest, furthestFit] = [0, 0, 0];
  const differing: string[] = [];
  for (const [tag, expected] of theirs) {
    const found = ours.get(tag);
    if (found?.length !== expected.length)
      differing.push(`${tag}: ${found?.length ?? 0} rows, R has ${expected.length}`);
    for (const [i, row] of expected.entries())
      for (const [k, value] of row.entries()) {
        if (Number.isNaN(value)) continue;
        const off = Math.abs((found?.[i]?.[k] ?? Number.NaN) - value) / (value === 0 ? 1 : Math.abs(value));
        const isFit = tag.startsWith("weibull") || tag.startsWith("hazardRatio");
        count += 1;
        if (isFit) furthestFit = Math.max(furthestFit, off);
        else furthest = Math.max(furthest, off);
        if (!(off <= (isFit ? RELATIVE_FIT : RELATIVE))) differing.push(`${tag} row ${i} number ${k}: off by ${off}`);
      }
  }
  return { agree: differing.length === 0, numbers: count, furthest, furthestFit, differing: differing.slice(0, 5) };
}
