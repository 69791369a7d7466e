// `npm test`: everything, from a fresh clone. Plain JavaScript, because it runs before anything is installed.
import { spawnSync } from "node:child_process";
import { randomInt } from "node:crypto";
import { existsSync } from "node:fs";
import path from "node:path";
import { ensureInstalled, root } from "../seed/ensure-installed.mjs";

const strict = process.env.CI === "true";
const started = Date.now();
ensureInstalled();

/**
 * Beside the fixed one, a seed of this run for the random lives of a return: the same walks every day would find nothing new. The judge
 * of a checkout walks the fixed one alone, because it has to say the same of the same checkout twice.
 */
const lifeSeeds = process.env.LIFE_SEEDS ?? (strict ? "" : String(randomInt(2 ** 31)));
if (lifeSeeds !== "")
  console.log(
    `Random lives of a return are walked with the fixed seed and ${lifeSeeds}; again with LIFE_SEEDS=${lifeSeeds} npm test.`,
  );

const bin = (name) => path.join(root, "node_modules", name);
const vitest = [bin("vitest/vitest.mjs"), "run", "--config", "tests/vitest.config.ts"];
const tsx = bin("tsx/dist/cli.mjs");

const steps = [
  ["database client", [path.join(root, "prisma/generate.mjs")]],
  ["migrations hold the whole schema", [tsx, "prisma/migrate.ts", "drift"]],
  ["types of the routes", [bin("next/dist/bin/next"), "typegen"]],
  ["types", [bin("typescript/bin/tsc"), "--noEmit"]],
  ["lint", [bin("@biomejs/biome/bin/biome"), "check", "--error-on-warnings", "."]],
  [
    "layers",
    [
      bin("dependency-cruiser/bin/dependency-cruise.mjs"),
      "--config",
      ".dependency-cruiser.mjs",
      "app",
      "lib",
      "seed",
      "tests",
      "prisma",
    ],
  ],
  ["house rules", [tsx, "tests/house-rules.ts"]],
  ["unit and reference tests", [...vitest, "--project", "unit", "--project", "reference"]],
  [
    "integration tests on the embedded database",
    [...vitest, "--project", "integration"],
    { TEST_DATABASE_URL: "", LIFE_SEEDS: lifeSeeds },
  ],
];

const server = process.env.TEST_DATABASE_URL;
if (server) steps.push(["integration tests on the PostgreSQL server", [...vitest, "--project", "integration"]]);
else missing("TEST_DATABASE_URL is not set: the integration tests did not run on a PostgreSQL server.");

const chromium = [
  process.env.CHROMIUM_PATH,
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
].find((file) => file && existsSync(file));
if (chromium)
  steps.push([
    "browser tests",
    [...vitest, "--project", "browser"],
    { CHROMIUM_PATH: chromium, TEST_DATABASE_URL: "" },
  ]);
else missing("Chromium was not found: the browser tests did not run.");

if (!existsSync(process.env.CHECK_DATA_DIR ?? path.resolve(root, "../shared/checks"))) {
  // The files have licences and homes of their own and are no part of the repository; the values typed into tests always run.
  console.log("The folder of open data was not found (CHECK_DATA_DIR): the reference tests that read it are skipped.");
}

for (const [title, args, env] of steps) {
  const begun = Date.now();
  console.log(`\n== ${title}`);
  const { status } = spawnSync(process.execPath, args, {
    cwd: root,
    stdio: "inherit",
    env: { ...process.env, NEXT_TELEMETRY_DISABLED: "1", NO_UPDATE_NOTIFIER: "1", ...env },
  });
  if (status !== 0) {
    console.error(`\nFailed: ${title}.`);
    process.exit(status ?? 1);
  }
  console.log(`   ok, ${Math.round((Date.now() - begun) / 1000)} s`);
}
console.log(`\nAll steps passed in ${Math.round((Date.now() - started) / 1000)} s.`);

/** Left out on a developer's machine with one plain line; a failure where nothing may be left out. */
function missing(sentence) {
  console.log(sentence);
  if (strict) process.exit(1);
}
