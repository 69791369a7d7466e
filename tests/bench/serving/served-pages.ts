import { type ChildProcess, spawn } from "node:child_process";
import net from "node:net";
import path from "node:path";

const root = path.resolve(import.meta.dirname, "../../..");
const STARTING_MS = 60_000;

export interface ServedPages {
  readonly address: string;
  readonly stop: () => Promise<void>;
}

/** Starts `next start` on what was built, on a free port of this machine alone, with the environment of this process. */
export async function servePages(env: Readonly<Record<string, string>>): Promise<ServedPages> {
  const port = await freePort();
  const address = `http://localhost:${port}`;
  const server = spawn(
    process.execPath,
    [path.join(root, "node_modules/next/dist/bin/next"), "start", "--port", String(port), "--hostname", "127.0.0.1"],
    { cwd: root, env: { ...process.env, ...env, NODE_ENV: "production", APP_URL: address }, stdio: "ignore" },
  );
  await answers(server, `${address}/sign-in`);
  return { address, stop: () => ended(server) };
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = net.createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      const port = address === null || typeof address === "string" ? 0 : address.port;
      probe.close(() => resolve(port));
    });
  });
}

async function answers(server: ChildProcess, url: string): Promise<void> {
  const deadline = performance.now() + STARTING_MS;
  while (performance.now() < deadline) {
    if (server.exitCode !== null) throw new Error("next start ended at once: is there a build (npm run build)?");
    const status = await fetch(url).then(
      (answer) => answer.status,
      () => 0,
    );
    if (status === 200) return;
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
  server.kill();
  throw new Error("next start did not answer in a minute.");
}

function ended(server: ChildProcess): Promise<void> {
  return new Promise((resolve) => {
    server.once("exit", () => resolve());
    server.kill("SIGTERM");
  });
}
