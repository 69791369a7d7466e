import { readFileSync } from "node:fs";
import path from "node:path";
import { z } from "zod";
import { type TransportRules, transportRulesSchema } from "@/lib/transport/rule-set.schema";

const migrations = path.join(import.meta.dirname, "../../prisma/migrations");

/** The text between two dollar quotes of a migration. */
function quotedIn(migration: string, tag: string): unknown {
  const sql = readFileSync(path.join(migrations, migration, "migration.sql"), "utf8");
  return JSON.parse(sql.split(`$${tag}$`)[1] ?? "");
}

const changesSchema = z.array(z.object({ at: z.array(z.string()), value: z.looseObject({}) }));

/** The rules a fresh database holds, read from the migrations that write them. */
export function firstTransportRules(): TransportRules {
  const content = z.looseObject({}).parse(quotedIn("20261129181029_transport_rules_as_rows", "rules"));
  for (const { at, value } of changesSchema.parse(quotedIn("20261201025000_what_nobody_compared_says_so", "changes"))) {
    putAt(content, at, value);
  }
  return transportRulesSchema.parse({ ...content, version: "2026-1", validFrom: "2025-01-01" });
}

function putAt(tree: Record<string, unknown>, [key = "", ...rest]: readonly string[], leaf: unknown): void {
  if (rest.length === 0) {
    tree[key] = leaf;
    return;
  }
  const next = tree[key];
  if (!isTree(next)) throw new RangeError(`transport rules: nothing at ${key}`);
  putAt(next, rest, leaf);
}

function isTree(found: unknown): found is Record<string, unknown> {
  return typeof found === "object" && found !== null;
}
