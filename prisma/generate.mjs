// Generates the Prisma client without Prisma's native schema engine, which some machines cannot download.
// `generate` never starts that engine: it only checks that the named file exists, so node itself stands in.
import { spawnSync } from "node:child_process";
import path from "node:path";

const root = path.resolve(import.meta.dirname, "..");
const run = spawnSync(
  process.execPath,
  [path.join(root, "node_modules/prisma/build/index.js"), "generate", "--no-hints"],
  {
    cwd: root,
    stdio: ["ignore", "pipe", "inherit"],
    encoding: "utf8",
    env: {
      ...process.env,
      PRISMA_SCHEMA_ENGINE_BINARY: process.execPath,
      PRISMA_HIDE_UPDATE_MESSAGE: "1",
      CHECKPOINT_DISABLE: "1",
    },
  },
);
if (run.status !== 0) process.stderr.write(run.stdout);
process.exit(run.status ?? 1);
