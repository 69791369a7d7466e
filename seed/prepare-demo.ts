import { existsSync, mkdirSync, rmSync, writeFileSync } from "node:fs";
import path from "node:path";
import type { Role } from "@/lib/access/actor";
import { openAccountAsSystem } from "@/lib/auth/accounts";
import { DEMO_PASSWORD } from "@/lib/auth/demo-password";
import { asSystem, closeDatabase } from "@/lib/data/database";
import { readEnvironment } from "@/lib/data/env";
import { openDatabase } from "@/lib/data/open-database";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { applyMigrations, chooseMode } from "@/prisma/migrate";
import { loadBenchTests } from "./load-bench-tests";
import { loadCosts } from "./load-costs";
import { loadFleet } from "./load-fleet";
import { loadMoney } from "./load-money";
import { loadReturns } from "./load-returns";
import { loadSafety } from "./load-safety";
import { loadTestResults } from "./load-test-results";
import { writePacksToTry } from "./packs-to-try";
import { buildScenario } from "./scenario/build-scenario";
import type { Scenario } from "./scenario/scenario";
import { lastDataDate, storyCalendar } from "./scenario/story-calendar";

/**
 * Brings the demo folder to a state the server can start from: migrations, and on the first run the scenario. The
 * story is told up to the last week that is over, so that a demo filled today is a demo of today. The
 * sign-ins are written last; without them the folder was left half-filled by an interrupted first run and starts over.
 */
async function prepareDemo(): Promise<void> {
  const { demo, dataDir, databaseUrl } = readEnvironment();
  if (!demo || databaseUrl !== null)
    throw new Error("The demo is prepared by `npm run demo` only, on its own embedded database.");
  const signIns = path.join(dataDir, "demo-sign-ins.txt");
  const isFirstRun = !existsSync(signIns);
  if (isFirstRun) rmSync(dataDir, { recursive: true, force: true });
  await migrate(dataDir);
  if (!isFirstRun) return;

  const started = Date.now();
  const asOf = lastDataDate(civilDateAt(new Date(started), "UTC"));
  const scenario = buildScenario({ asOf });
  const at = storyCalendar(asOf);
  await asSystem((tx) => loadFleet(tx, scenario));
  const people = await openAccounts(scenario);
  const truths: string[] = ["sha256,return,serial,fault,groups,severity"];
  await loadReturns(scenario, people, (sha256, { reference, serial, readings }) => {
    const truth = readings?.truth;
    if (truth) truths.push([sha256, reference, serial, truth.fault, truth.groups.join(" "), truth.severity].join(","));
  });
  await loadMoney(at);
  await loadCosts(at);
  await asSystem(
    (tx) => tx.$queryRaw`SELECT setval('return_reference_number', ${scenario.returns.length + 1000}::bigint)`,
  );
  await loadSafety(people);
  await loadBenchTests(people, new Date(`${scenario.asOf}T12:00:00Z`));
  await loadTestResults(people);
  await closeDatabase();
  // What is really wrong with each simulated pack, for checking the diagnosis; the program never reads it.
  writeFileSync(path.join(dataDir, "simulated-truths.csv"), `${truths.join("\n")}\n`);
  writePacksToTry(scenario, dataDir);
  writeFileSync(signIns, describeSignIns(scenario));
  console.log(
    `${scenario.packs.length} packs and ${scenario.returns.length} returns written in ${Math.round((Date.now() - started) / 1000)} s.`,
  );
}

async function migrate(dataDir: string): Promise<void> {
  mkdirSync(dataDir, { recursive: true });
  const database = await openDatabase({ kind: "embedded", folder: dataDir });
  try {
    await applyMigrations(database.adapter);
    await chooseMode(database.adapter, "demo");
  } finally {
    await database.close();
  }
}

async function openAccounts(scenario: Scenario) {
  const people = new Map<string, { userId: string; name: string; role: Role }>();
  for (const { email, name, role, dealerCode } of scenario.users) {
    const dealerId = scenario.dealers.find(({ code }) => code === dealerCode)?.id ?? null;
    const userId = await openAccountAsSystem({ email, name, role, dealerId, password: DEMO_PASSWORD, isDemo: true });
    people.set(email, { userId, name, role });
  }
  return people;
}

function describeSignIns(scenario: Scenario): string {
  const width = Math.max(...scenario.users.map(({ email }) => email.length));
  const lines = scenario.users.map(({ email, name, role, dealerCode }) => {
    const dealer = scenario.dealers.find(({ code }) => code === dealerCode);
    const where = dealer === undefined ? "the maker" : `${dealer.name}, ${dealer.town}`;
    return `  ${email.padEnd(width)}  ${role.padEnd(14)}  ${name}, ${where}`;
  });
  return ["Demo sign-ins (demo mode only):", ...lines, `Password of all of them: ${DEMO_PASSWORD}`, ""].join("\n");
}

await prepareDemo();
