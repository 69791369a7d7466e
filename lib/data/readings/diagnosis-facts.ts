import "server-only";
import type { Baseline } from "@/lib/diagnosis/baseline";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import type { Serial } from "@/lib/packs/serial";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Transaction } from "../database";
import { type PackFacts, readPackFacts } from "../packs/pack-facts";
import { readHealthyPopulation } from "./healthy-packs";
import { readSuggestionContext } from "./suggestion-context";

export interface DiagnosisFacts {
  readonly pack: PackFacts;
  readonly context: SuggestionContext;
  readonly baseline: Baseline;
}

/**
 * All that is known of a pack before its readings are judged. Give it a system transaction: the sale, the build record
 * and the other packs of the revision are not the dealer's to read, and only what the diagnosis says of them is shown.
 */
export async function readDiagnosisFacts(tx: Transaction, serial: Serial): Promise<DiagnosisFacts | null> {
  const pack = await readPackFacts(tx, serial);
  if (pack === null) return null;
  const today = civilDateAt(new Date(), "UTC");
  return {
    pack,
    context: await readSuggestionContext(tx, pack, today, null),
    baseline: await readBaseline(tx, pack),
  };
}

/** The pack's own record, and sound packs of its revision. */
export async function readBaseline(
  tx: Transaction,
  { packId, revision, built }: Pick<PackFacts, "packId" | "revision" | "built">,
): Promise<Baseline> {
  return { built, population: await readHealthyPopulation(tx, revision.id, packId), potted: revision.potted };
}
