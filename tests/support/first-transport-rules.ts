import { readFileSync } from "node:fs";
import path from "node:path";
import { z } from "zod";
import { type TransportRules, transportRulesSchema } from "@/lib/transport/rule-set.schema";

const migration = path.join(
  import.meta.dirname,
  "../../prisma/migrations/20261129181029_transport_rules_as_rows/migration.sql",
);

/** The rules a fresh database holds, read from the migration that writes them. */
export function firstTransportRules(): TransportRules {
  const json = readFileSync(migration, "utf8").split("$rules$")[1] ?? "";
  const content = z.looseObject({}).parse(JSON.parse(json));
  return transportRulesSchema.parse({ ...content, version: "2026-1", validFrom: "2025-01-01" });
}
