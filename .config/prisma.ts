import path from "node:path";
import { defineConfig } from "prisma/config";

// Paths are relative to this file. The native schema engine is not needed: see prisma/generate.mjs and prisma/migrate.ts.
export default defineConfig({
  schema: path.join("..", "prisma", "schema"),
  migrations: { path: path.join("..", "prisma", "migrations") },
});
