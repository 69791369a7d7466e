import type { AffectedDefinition } from "@/lib/reliability/affected-packs";

/** The way to the packs that share a cause. */
export function affectedHref({ by, group, from = "", to = "" }: AffectedDefinition): string {
  const range = { ...(from !== "" && { from }), ...(to !== "" && { to }) };
  return `/reliability/affected?${new URLSearchParams({ by, group, ...range })}`;
}

/** The same packs as a file. */
export function affectedFileHref(definition: AffectedDefinition): string {
  return affectedHref(definition).replace("/affected?", "/affected/export?");
}

/** The packs a known issue names, and the form that proposes one for them. */
export function issuePacksHref(
  named: Readonly<Partial<Record<"revision" | "lot" | "set" | "insteadOf", string>>>,
): string {
  const given = Object.entries(named).filter(([, value]) => value !== "");
  return `/known-issues/packs?${new URLSearchParams(given)}`;
}
