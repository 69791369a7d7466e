// `npm run demo`: from a fresh clone to a usable page. Plain JavaScript, because it runs before anything is installed.
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import http from "node:http";
import path from "node:path";
import { ensureInstalled, root, runOrStop } from "./ensure-installed.mjs";

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
  NEXT_TELEMETRY_DISABLED: "1",
  NODE_ENV: "production",
};

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
step("client", "Generating the database client", () =>
  runOrStop("Generating", [path.join(root, "prisma/generate.mjs")]),
);
if (fresh) rmSync(dataDir, { recursive: true, force: true });
console.log(
  existsSync(dataDir) ? "Keeping the demo data; `npm run demo -- --fresh` starts over." : "Preparing the demo data ...",
);
runOrStop("Preparing the demo data", [...tsx, path.join(root, "seed/prepare-demo.ts")], env);
step("build", "Building the pages", () => runOrStop("Building", [next, "build"], env));
serve();

/** Does a step once for one state of the sources. */
function step(name, title, run) {
  const stamp = path.join(root, name === "build" ? ".next/built-from" : "prisma/generated/generated-from");
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === sources) return;
  console.log(`${title} ...`);
  run();
  writeFileSync(stamp, sources);
}

function serve() {
  const server = spawn(process.execPath, [next, "start", "--port", String(port), "--hostname", host], {
    cwd: root,
    stdio: ["ignore", "ignore", "inherit"],
    env: { ...process.env, ...env },
  });
  // The server and this program end together, whoever is told first.
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"])
    process.on(signal, () => server.kill(signal === "SIGHUP" ? "SIGTERM" : signal));
  process.on("exit", () => server.kill("SIGKILL"));
  server.on("exit", (code, signal) => process.exit(signal === null ? (code ?? 1) : 0));
  announce();
}

async function announce() {
  const deadline = Date.now() + 60_000;
  while (!(await answers())) {
    if (Date.now() > deadline) stop("The server did not answer within a minute.");
    await new Promise((resolve) => setTimeout(resolve, 150));
  }
  console.log(`\nReturns Bench is ready: ${address}\n`);
  console.log(readFileSync(path.join(dataDir, "demo-sign-ins.txt"), "utf8"));
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
