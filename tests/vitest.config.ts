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

export default defineConfig({
  test: {
    projects: [
      project("unit"),
      project("reference"),
      project("integration", { fileParallelism: false, testTimeout: 60_000, hookTimeout: 120_000 }),
      project("browser", {
        fileParallelism: false,
        testTimeout: 300_000,
        hookTimeout: 300_000,
        globalSetup: [path.join(root, "tests/support/start-demo-server.ts")],
      }),
    ],
  },
});
