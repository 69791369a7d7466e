import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import net from "node:net";
import os from "node:os";
import path from "node:path";
import type { TestProject } from "vitest/node";
import manifest from "../../package.json" with { type: "json" };

declare module "vitest" {
  interface ProvidedContext {
    /** Address of the running demo. */
    demoAddress: string;
    /** Holds by how many milliseconds the demo's clock runs ahead (tests/support/movable-clock.cjs). */
    clockFile: string;
    /** Where the sign-ins of the people are kept, so that each signs in once for all files. */
    signInFolder: string;
  }
}

const root = path.resolve(import.meta.dirname, "../..");
/** The first start builds the pages and fills the database, on two slow cores. */
const patienceMs = 15 * 60_000;

/**
 * Starts what `npm run demo`, the README's command, starts, on a fresh folder and a free port, once for all browser tests.
 * Without npm between, so that the demo ends with whoever started it, however that ends.
 */
export default async function startDemoServer(project: TestProject): Promise<() => Promise<void>> {
  // While a test is being written, a demo that already runs spares the minutes of a fresh one.
  const running = process.env.DEMO_ADDRESS;
  const folder = mkdtempSync(path.join(os.tmpdir(), "returns-bench-browser-"));
  const clockFile = process.env.CLOCK_FILE ?? path.join(folder, "clock-runs-ahead-ms");
  project.provide("clockFile", clockFile);
  project.provide("signInFolder", folder);
  if (running) {
    project.provide("demoAddress", running);
    return async () => rmSync(folder, { recursive: true, force: true });
  }
  const port = await freePort();
  const [program, script] = manifest.scripts.demo.split(" ");
  if (program !== "node" || script === undefined) throw new Error("npm run demo is not one script any more");
  const server = spawn(process.execPath, [path.join(root, script), "--fresh"], {
    cwd: root,
    env: {
      ...process.env,
      NODE_ENV: "production",
      PORT: String(port),
      DATA_DIR: path.join(folder, "demo"),
      CLOCK_FILE: clockFile,
      NODE_OPTIONS: `${process.env.NODE_OPTIONS ?? ""} --require ${path.join(root, "tests/support/movable-clock.cjs")}`,
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  await ready(server);
  project.provide("demoAddress", `http://localhost:${port}`);
  return async () => {
    await ended(server);
    rmSync(folder, { recursive: true, force: true });
  };
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      probe.close(() =>
        address === null || typeof address === "string" ? reject(new Error("no port")) : resolve(address.port),
      );
    });
  });
}

function ready(server: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let said = "";
    const timer = setTimeout(() => {
      server.kill();
      reject(new Error(`The demo was not ready in time:\n${said}`));
    }, patienceMs);
    const listen = (chunk: Buffer) => {
      said += chunk.toString();
      if (!said.includes("Returns Bench is ready")) return;
      clearTimeout(timer);
      resolve();
    };
    server.stdout?.on("data", listen);
    server.stderr?.on("data", listen);
    server.once("exit", () => {
      clearTimeout(timer);
      reject(new Error(`The demo ended before it was ready:\n${said}`));
    });
  });
}

function ended(server: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    server.removeAllListeners("exit");
    server.once("exit", () => resolve());
    server.kill("SIGTERM");
  });
}
