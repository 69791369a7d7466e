import os from "node:os";
import path from "node:path";
import { defineConfig } from "vitest/config";

const root = path.resolve(import.meta.dirname, "..");
const alias = { "@": root, "server-only": path.join(root, "tests/support/empty-module.ts") };

// Kathmandu is UTC+05:45: code that forgets a time zone fails on every machine, not only on some.
process.env.TZ = "Asia/Kathmandu";

function project(name: string, extra: Record<string, unknown> = {}) {
  return {
    resolve: { alias },
    test: {
      name,
      root,
      include: [`tests/${name}/**/*.test.{ts,tsx}`],
      environment: "node" as const,
      // Property tests on a busy machine take their time; a hung test still ends.
      testTimeout: 60_000,
      setupFiles: [path.join(root, "tests/support/fail-on-console.ts")],
      ...extra,
    },
  };
}

/** Tests that walk the running demo, one file after the other: they share its database and its clock. */
const ofDemo = {
  fileParallelism: false,
  testTimeout: 600_000,
  hookTimeout: 300_000,
  globalSetup: [path.join(root, "tests/support/start-demo-server.ts")],
};

/** Pure modules keep no state, so files may share them: to load them anew for every file took a third of the time. */
const ofPureModules = { isolate: false };

export default defineConfig({
  test: {
    // The runner leaves one core to itself by default; on two cores that is half of the time.
    maxWorkers: os.availableParallelism(),
    projects: [
      project("unit", ofPureModules),
      project("reference", ofPureModules),
      project("integration", {
        // Nothing is said of speed here: it ends what hangs, and a path of many steps takes a minute on a busy machine.
        testTimeout: 180_000,
        hookTimeout: 120_000,
        globalSetup: [path.join(root, "tests/support/migrate-once.ts")],
      }),
      project("browser", ofDemo),
      // Whole lives by hand, some four minutes: walked with `npm run -s test:walks`, no part of `npm test`.
      project("walks", ofDemo),
    ],
  },
});
