// `npm run demo`: from a fresh clone to a usable page. Plain JavaScript, because it runs before anything is installed.
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import http from "node:http";
import path from "node:path";
import { ensureInstalled, root } from "./ensure-installed.mjs";

const port = Number(process.env.PORT ?? 3000);
const host = process.env.HOST ?? "127.0.0.1";
const address = `http://localhost:${port}`;
const dataDir = path.resolve(root, process.env.DATA_DIR ?? "data/demo");
const fresh = process.argv.includes("--fresh");
const tsx = [path.join(root, "node_modules/tsx/dist/cli.mjs"), "--conditions=react-server"];
const next = path.join(root, "node_modules/next/dist/bin/next");
const env = {
  DEMO: "1",
  DATA_DIR: dataDir,
  DATABASE_URL: "",
  APP_URL: address,
  MAKER_COUNTRY: "DE",
  // Kept free by the German regulator for use in fiction.
  EMERGENCY_PHONE: "+49 30 23125 112",
  RETURN_ADDRESS: "Returns of the demo maker | Goods-in, gate 3 | Beispielweg 7 | 00000 Musterstadt | Germany",
  NEXT_TELEMETRY_DISABLED: "1",
  NODE_ENV: "production",
};

const clientStamp = path.join(root, "prisma/generated/generated-from");
const signIns = path.join(dataDir, "demo-sign-ins.txt");
const buildStamp = path.join(root, ".next/built-from");

/** Programs under way: whoever is told to end, all of them end. */
const started = new Set();
let isEnding = false;
for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"]) process.on(signal, () => endAll(signal));
// npm gives an end signal to its shell only; when that is gone, whoever started this is gone.
const startedBy = process.ppid;
setInterval(() => {
  if (process.ppid !== startedBy) endAll("SIGTERM");
}, 300).unref();
process.on("exit", () => {
  for (const program of started) program.kill("SIGKILL");
});

if (!Number.isInteger(port) || port < 1 || port > 65535)
  stop(`PORT must be a number from 1 to 65535, not "${process.env.PORT}".`);
if (await answers()) stop(`Something already answers on port ${port}. Choose another: PORT=3001 npm run demo`);

ensureInstalled();
const sources = fingerprint([
  "app",
  "lib",
  "prisma",
  "seed",
  "public",
  "next.config.js",
  "package-lock.json",
  "tsconfig.json",
  ".postcssrc.json",
]);
if (isStale(clientStamp)) {
  console.log("Generating the database client ...");
  await run("Generating", [path.join(root, "prisma/generate.mjs")]);
  writeFileSync(clientStamp, sources);
}
if (fresh) rmSync(dataDir, { recursive: true, force: true });
console.log(
  existsSync(signIns)
    ? "Keeping the demo data; `npm run demo -- --fresh` starts over."
    : "Filling the demo database and building the pages, side by side; on two cores this takes about five minutes ...",
);
await Promise.all([prepareData(), buildPages()]);
serve();

/** Migrates and fills; spared where the folder was filled and no migration has come since. */
async function prepareData() {
  const stamp = path.join(dataDir, "migrated-to");
  const migrations = fingerprint(["prisma/migrations"]);
  if (existsSync(signIns) && existsSync(stamp) && readFileSync(stamp, "utf8") === migrations) return;
  await run("Preparing the demo data", [...tsx, path.join(root, "seed/prepare-demo.ts")]);
  writeFileSync(stamp, migrations);
}

async function buildPages() {
  if (!isStale(buildStamp)) return;
  await run("Building the pages", [next, "build"]);
  writeFileSync(buildStamp, sources);
}

/** Whether a step was last done for another state of the sources. */
function isStale(stamp) {
  return !existsSync(stamp) || readFileSync(stamp, "utf8") !== sources;
}

/** Runs a program of the project to its end; where it fails, everything stops here. */
function run(what, args) {
  return new Promise((resolve) => {
    const program = spawn(process.execPath, args, {
      cwd: root,
      stdio: ["ignore", "pipe", "inherit"],
      env: { ...process.env, ...env },
    });
    started.add(program);
    let said = "";
    program.stdout.on("data", (chunk) => {
      said += chunk;
    });
    program.on("exit", (code) => {
      started.delete(program);
      if (code === 0) return resolve();
      if (isEnding) return;
      process.stderr.write(said);
      stop(`${what} did not succeed.`);
    });
  });
}

function endAll(signal) {
  if (isEnding) return;
  isEnding = true;
  for (const program of started) program.kill(signal === "SIGHUP" ? "SIGTERM" : signal);
  // The server ends this process by its own end; without one there is nothing left to wait for.
  setTimeout(() => process.exit(0), started.size === 0 ? 0 : 5_000);
}

function serve() {
  const server = spawn(process.execPath, [next, "start", "--port", String(port), "--hostname", host], {
    cwd: root,
    stdio: ["ignore", "ignore", "inherit"],
    env: { ...process.env, ...env },
  });
  started.add(server);
  server.on("exit", (code, signal) => process.exit(isEnding || signal !== null ? 0 : (code ?? 1)));
  announce();
}

async function announce() {
  const deadline = Date.now() + 60_000;
  while (!(await answers())) {
    if (Date.now() > deadline) stop("The server did not answer within a minute.");
    await new Promise((resolve) => setTimeout(resolve, 150));
  }
  console.log(`\nReturns Bench is ready: ${address}\n`);
  console.log(readFileSync(signIns, "utf8"));
  console.log("Demo data only; every name is invented. Stop with Ctrl+C.");
}

function answers() {
  return new Promise((resolve) => {
    const request = http.get({ host: "127.0.0.1", port, path: "/sign-in", timeout: 5_000 }, (response) => {
      response.resume();
      resolve(true);
    });
    request.on("error", () => resolve(false));
    request.on("timeout", () => request.destroy());
  });
}

function fingerprint(places) {
  const hash = createHash("sha256");
  const visit = (place) => {
    if (!existsSync(place) || place.endsWith("prisma/generated")) return;
    if (statSync(place).isDirectory()) {
      for (const name of readdirSync(place).sort()) visit(path.join(place, name));
    } else {
      hash.update(path.relative(root, place)).update(readFileSync(place));
    }
  };
  for (const place of places) visit(path.join(root, place));
  return hash.digest("hex");
}

function stop(sentence) {
  console.error(sentence);
  process.exit(1);
}
