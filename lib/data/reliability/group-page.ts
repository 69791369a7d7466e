import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type OwnThreshold, ownThresholds } from "@/lib/diagnosis/settings-for-model";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { cellsOfOthers, compareFamily, type GroupEffect } from "@/lib/reliability/compare-strata";
import { type GroupLags, waitedDaysFor } from "@/lib/reliability/group-lags";
import { type GroupLife, groupLife } from "@/lib/reliability/group-life";
import { type GroupReport, groupReport } from "@/lib/reliability/group-report";
import { type IfFailures, ifFailures } from "@/lib/reliability/if-failures";
import { cellsOfGroup } from "@/lib/reliability/life-cell";
import { type RepeatReturns, repeatReturns } from "@/lib/reliability/repeat-returns";
import type { LagEstimate } from "@/lib/reliability/reporting-lag";
import { type UnknownStarts, unknownStarts } from "@/lib/reliability/unknown-start";
import { testedGroups } from "@/lib/reliability/what-got-worse";
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

export interface GroupPage {
  /** Nothing told after this day is counted. */
  readonly dataDate: CalendarDate;
  readonly hasCoverRules: boolean;
  readonly by: CompareBy;
  readonly modelNames: readonly string[];
  readonly line: GroupReport;
  /** The group against the others of its models, and how many groups were tested with it. */
  readonly effect: GroupEffect | null;
  readonly tested: number;
  /** Returns undecided for so many days or more are allowed for by nothing; the group as if its were failures, null where it has none. */
  readonly waitedDays: number;
  readonly ifFailures: IfFailures | null;
  readonly life: GroupLife;
  /** Where its packs are of several models, each of them by itself; else empty. */
  readonly byModel: readonly ModelOfGroup[];
  readonly lag: LagEstimate;
  /** Delays of the groups of its attribute, where they may have such of their own; else null. */
  readonly delays: GroupLags | null;
  /** Delays of dealers, whatever the group is. */
  readonly dealerDelays: GroupLags;
  readonly failures: readonly FailedPack[];
  /** What packs without a known day of sale could change; null where there is none. */
  readonly unknownStarts: UnknownStarts | null;
  readonly repeats: RepeatReturns;
  /** For a revision only. */
  readonly revision: RevisionFacts | null;
}

/** The packs of a group that are of one model. */
export interface ModelOfGroup {
  readonly model: string;
  readonly line: GroupReport;
  readonly life: GroupLife;
  /** Of customers whose first pack was of the model. */
  readonly repeats: RepeatReturns;
}

/**
 * All that can be said of one group from sales, returns, decisions and replacements up to the data date. Null for whoever
 * may not read failure rates, and for a group of which there is no pack and no record.
 */
export async function readGroupPage(
  actor: Actor,
  dataDate: CalendarDate,
  { by, group }: { readonly by: CompareBy; readonly group: string },
): Promise<GroupPage | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const { lag, places: delayedPlaces } = await readDelays(tx, dataDate);
    const groupDelays = delayedPlaces.lagsOf(by);
    const { reporting, placeOfLives } = delayedPlaces.of(by);
    const question = { by, within: "model" } as const;
    const ends = await readCoverEnds(tx, dataDate);
    const table = await readLifeTable(tx, ends, question, placeOfLives);
    const { cells: own, excluded } = cellsOfGroup(table, group);
    const revision = by === "revision" ? await readRevision(tx, group) : null;
    if (own.length + excluded.length === 0 && revision === null) return null;
    const strata = new Set([...own, ...excluded].map(({ stratum }) => stratum));
    const likes = cellsOfOthers(table, { group, strata: [...strata] });
    const isIt = (effect: GroupEffect) => effect.group === group;
    const comparison = compareFamily(table, reporting, () => isIt);
    const waitedDays = waitedDaysFor(group, lag, groupDelays);
    const asFailures = ifFailures(
      [{ by, table }],
      [{ by, comparison }],
      reporting,
      waitedDays,
      (_, asked) => asked === group,
      (told) => told === group,
    );
    const { failures, undated, delays, places } = await readGroupPacks(tx, ends, { ...question, group });
    return {
      dataDate,
      hasCoverRules: ends.hasRules,
      by,
      modelNames: revision === null ? await readModelNames(tx, [...strata]) : [revision.modelName],
      line: groupReport(by, group, { cells: own, excluded }, reporting),
      effect: comparison.groups.find(isIt) ?? null,
      tested: testedGroups(comparison),
      waitedDays,
      ifFailures: asFailures.find((one) => one.group === group) ?? null,
      life: groupLife(own, likes, reporting, waitedDays),
      byModel:
        strata.size < 2
          ? []
          : [...strata].sort().map((model): ModelOfGroup => {
              const ofIt = <C extends { readonly stratum: string }>(some: readonly C[]) =>
                some.filter(({ stratum }) => stratum === model);
              const its = { cells: ofIt(own), excluded: ofIt(excluded) };
              const life = groupLife(its.cells, ofIt(likes), reporting, waitedDays);
              return {
                model,
                line: groupReport(by, model, its, reporting),
                life,
                repeats: repeatReturns(ofIt(places)),
              };
            }),
      lag,
      delays: groupDelays,
      dealerDelays: delayedPlaces.groupLags.dealer,
      failures,
      unknownStarts: unknownStarts(own, undated, delays),
      repeats: repeatReturns(places),
      revision: revision?.facts ?? null,
    };
  });
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
