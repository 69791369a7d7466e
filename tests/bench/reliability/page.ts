import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import path from "node:path";
import { mintActor } from "@/lib/access/actor";
import { asActor, closeDatabase } from "@/lib/data/database";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { readJointLives } from "@/lib/data/reliability/life-cells";
import { lifeSql } from "@/lib/data/reliability/life-sql";
import { readWatch } from "@/lib/data/reliability/watch";
import { type CoverEnds, readCoverEnds } from "@/lib/data/warranty/cover-ends";
import { watched } from "@/lib/reliability/what-got-worse";
import { madeFleetDataDate as dataDate } from "@/tests/support/made-fleet";
import { prepareFleet } from "../prepare-fleet";
import { compare } from "../side-by-side";
import { RSession } from "./r-session";

/** Packs of the made fleet; about one return comes for ten of them. */
const PACKS = 200_000;
/** A revision that truly fails more often than the others of its model. */
const REVISION = "MB-4";

const manager = mintActor({ userId: "m", name: "M", role: "manager", dealerId: null });

/**
 * What the manager's pages read, beside what one would otherwise do: take every pack's life out of the database by the same
 * counting rules into a file and have R's survfit draw the curves from it; and beside the one aggregate they rest on.
 * `npm run -s bench -- page [PACKS]`, on the database that DATABASE_URL names (it must be empty and of no use to anybody:
 * the fleet stays in it), else on an embedded one made for it.
 */
export async function* rows([packs = String(PACKS)]: readonly string[]): AsyncIterable<object> {
  const folder = mkdtempSync(path.join(tmpdir(), "page-bench-"));
  process.env.DATA_DIR = folder;
  const r = new RSession();
  try {
    await prepareFleet(Number(packs));
    await r.run("suppressMessages(library(survival))");
    const ends = await asActor(manager, (tx) => readCoverEnds(tx, dataDate));
    const aggregate = () => seconds(() => joined(ends, watched));
    const oneAggregate = () => seconds(() => joined(ends, ["revision"]));
    const watch = () => seconds(() => readWatch(manager, dataDate, { by: "revision", within: "model" }));
    const revision = () => seconds(() => readGroupPage(manager, dataDate, { by: "revision", group: REVISION }));
    const inR = () => throughR(r, path.join(folder, "lives.csv"));
    const agree = () => sameFailures(r);
    const places = [
      { name: `page of all groups, ${packs} packs`, ours: watch, rival: aggregate, of: "6 attributes" },
      { name: `page of a revision, ${packs} packs`, ours: revision, rival: oneAggregate, of: "1 attribute" },
    ];
    for (const { name, ours, rival, of } of places) {
      yield await compare({ name, against: "all rows into R survfit", ours, theirs: inR, agree });
      yield await compare({ name, against: `its one SQL aggregate, ${of}`, ours, theirs: rival, agree });
    }
  } finally {
    r.close();
    await closeDatabase();
    rmSync(folder, { recursive: true, force: true });
  }
}

async function seconds(run: () => Promise<unknown>): Promise<number> {
  const start = performance.now();
  await run();
  return (performance.now() - start) / 1000;
}

/** The one statement alone: the ends of cover that it is given are worked out by the page, and not by the aggregate. */
function joined(ends: CoverEnds, attributes: Parameters<typeof readJointLives>[2]["attributes"]) {
  return asActor(manager, (tx) => readJointLives(tx, ends, { attributes, within: "model" }));
}

/** Every pack's own life by the same rules, through a file, into curves with limits. */
async function throughR(r: RSession, file: string): Promise<number> {
  return seconds(async () => {
    const lives = await asActor(manager, async (tx) => {
      return tx.$queryRaw<{ grp: string; entry: number; exit: number; status: string }[]>`
        ${lifeSql(await readCoverEnds(tx, dataDate), { by: "revision", within: "model" })}
        SELECT "grp", "entry", "exit", "status" FROM "confirmed_life" WHERE "slack" IS NOT NULL`;
    });
    const lines = lives.map(({ grp, entry, exit, status }) => `${grp},${entry},${exit},${status === "failed" ? 1 : 0}`);
    writeFileSync(file, `g,entry,exit,failed\n${lines.join("\n")}\n`);
    await r.run(`d <- read.csv("${file}"); out <- survfit(Surv(entry, exit, failed) ~ g, d, conf.type = "log-log")`);
  });
}

/** R's curve of one revision has as many failures as the page, and the same share failed by 365.25 days. */
async function sameFailures(r: RSession): Promise<boolean | string> {
  const page = await readGroupPage(manager, dataDate, { by: "revision", group: REVISION });
  const estimate = page?.line.estimates.find(({ months }) => months === 12);
  const own = `s <- summary(out[paste0("g=", "${REVISION}")], times = 365.25)`;
  const printed = await r.run(`${own}; cat(sum(d$failed[d$g == "${REVISION}"]), formatC(1 - s$surv, digits = 12))`);
  const [failures, share] = (printed.at(-1) ?? "").split(" ").map(Number);
  const ours = estimate?.kind === "estimate" ? estimate.probability : Number.NaN;
  const isSame = failures === page?.line.failures && Math.abs((share ?? Number.NaN) / ours - 1) < 1e-9;
  return isSame || `R has ${failures} failures and ${share}, the page ${page?.line.failures} and ${ours}`;
}
