import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type OwnThreshold, ownThresholds } from "@/lib/diagnosis/settings-for-model";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { type GroupAnswers, groupAnswers, modelsOfGroup } from "@/lib/reliability/group-answers";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { type RevisionChange, readChanges } from "../packs/pack-facts";
import { readThresholdsInForce } from "../readings/thresholds-in-force";
import { readCoverEnds } from "../warranty/cover-ends";
import { type FailedPack, readGroupPacks } from "./group-packs";
import { readLifeTable } from "./life-cells";
import { readDelays } from "./reporting-lags";

export interface RevisionFacts {
  readonly modelCode: string;
  readonly introducedOn: string;
  readonly current: boolean;
  readonly changes: readonly RevisionChange[];
  /** Thresholds of the diagnosis its model sets otherwise than usual; null where what is stored has not their shape. */
  readonly thresholds: readonly OwnThreshold[] | null;
}

export interface GroupPage extends GroupAnswers {
  /** Nothing told after this day is counted. */
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  readonly by: CompareBy;
  readonly modelNames: readonly string[];
  readonly failures: readonly FailedPack[];
  /** For a revision only. */
  readonly revision: RevisionFacts | null;
}

/**
 * All that can be said of one group from sales, returns, decisions and replacements up to the data date, computed when the transaction has
 * ended: nobody waits for a database that is not asked. Null for whoever may not read failure rates, and for a group of which there is no
 * pack and no record.
 */
export async function readGroupPage(
  actor: Actor,
  dataDate: CalendarDate,
  asked: { readonly by: CompareBy; readonly group: string },
): Promise<GroupPage | null> {
  if (!may(actor, "read-reliability")) return null;
  const read = await asActor(actor, (tx) => readForGroup(tx, dataDate, asked));
  if (read === null) return null;
  const { facts, ...page } = read;
  return { ...page, ...groupAnswers(facts) };
}

async function readForGroup(
  tx: Transaction,
  dataDate: CalendarDate,
  { by, group }: { readonly by: CompareBy; readonly group: string },
) {
  const { lag, places } = await readDelays(tx, dataDate);
  const question = { by, within: "model" } as const;
  const ends = await readCoverEnds(tx, dataDate);
  const table = await readLifeTable(tx, ends, question, places.of(by).placeOfLives);
  const models = modelsOfGroup(table, group);
  const revision = by === "revision" ? await readRevision(tx, group) : null;
  if (models.length === 0 && revision === null) return null;
  const packs = await readGroupPacks(tx, ends, { ...question, group });
  const { failures, undated, delays: shelfDelays, places: customers } = packs;
  return {
    dataDate,
    hasCoverRules: ends.hasRules,
    by,
    modelNames: revision === null ? await readModelNames(tx, models) : [revision.modelName],
    failures,
    revision: revision?.facts ?? null,
    facts: { by, group, table, lag, places, undated, shelfDelays, customers },
  };
}

/** The same for a file that leaves the house: asked for as an act of its own. */
export async function exportGroupPage(...asked: Parameters<typeof readGroupPage>): Promise<GroupPage | null> {
  return may(asked[0], "export-reliability") ? readGroupPage(...asked) : null;
}

async function readRevision(tx: Transaction, code: string) {
  const found = await tx.revision.findUnique({
    where: { code },
    select: {
      introducedOn: true,
      supersededOn: true,
      changes: true,
      model: { select: { id: true, code: true, name: true, diagnosis: true } },
    },
  });
  if (found === null) return null;
  const { introducedOn, supersededOn, changes, model } = found;
  const facts: RevisionFacts = {
    introducedOn: fromDateColumn(introducedOn),
    current: supersededOn === null,
    changes: readChanges(changes),
    modelCode: model.code,
    thresholds: ownThresholds(await readThresholdsInForce(tx, model, new Date())),
  };
  return { modelName: model.name, facts };
}

async function readModelNames(tx: Transaction, codes: readonly string[]): Promise<string[]> {
  const models = await tx.packModel.findMany({
    where: { code: { in: [...codes] } },
    select: { name: true },
    orderBy: { code: "asc" },
  });
  return models.map(({ name }) => name);
}
