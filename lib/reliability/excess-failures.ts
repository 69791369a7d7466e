import { benjaminiHochberg } from "@/lib/stats/benjamini-hochberg";
import type { KaplanMeierCurve } from "@/lib/stats/kaplan-meier";
import { compareGroups } from "./group-comparison";
import { grouped } from "./plain-share";

export interface LivesOfRevision {
  readonly modelName: string;
  readonly group: string;
  /** Built today. */
  readonly current: boolean;
  readonly curve: Pick<KaplanMeierCurve, "counts">;
}

export interface ExcessFailures {
  readonly modelName: string;
  readonly group: string;
  readonly current: boolean;
  readonly observed: number;
  /** Failures it would have had, had all revisions of its model failed alike at equal ages. */
  readonly expected: number;
  readonly adjustedP: number;
  /** Number of revisions that were tested, of all models together. */
  readonly tested: number;
}

/** A call at this level is wrong in at most 5 of 100 calls on average (false discovery rate). Common practice, no source. */
export const CALLED_BELOW = 0.05;

/**
 * The revisions that have failed more often than their age explains, over all ages together: each against the other
 * revisions of its model by the log-rank test, adjusted for all revisions of all models tested (Benjamini-Hochberg). It
 * uses every failure, where a look at one age uses those before it only, and so speaks earlier. Surest first.
 */
export function excessFailures(revisions: readonly LivesOfRevision[]): ExcessFailures[] {
  const models = [...new Set(revisions.map(({ modelName }) => modelName))];
  const tested = models.flatMap((modelName) => testsOfModel(revisions.filter((one) => one.modelName === modelName)));
  const adjusted = benjaminiHochberg(tested.map(({ p }) => p));
  return tested
    .map(({ revision: { modelName, group, current }, observed, expected }, i) => ({
      modelName,
      group,
      current,
      observed,
      expected,
      adjustedP: adjusted[i] ?? 1,
      tested: tested.length,
    }))
    .filter(({ observed, expected, adjustedP }) => observed > expected && adjustedP < CALLED_BELOW)
    .sort((a, b) => a.adjustedP - b.adjustedP);
}

function testsOfModel(revisions: readonly LivesOfRevision[]) {
  const comparison = compareGroups(revisions.map(({ group, curve }) => ({ group: group, counts: curve.counts })));
  if ("refused" in comparison) return [];
  return revisions.flatMap((revision) => {
    const found = comparison.groups.find(({ group }) => group === revision.group);
    if (found === undefined || found.p === null) return [];
    return [{ revision, observed: found.observed, expected: found.expected, p: found.p }];
  });
}

/** "Revision XX-C of …, which is built today, has failed more often than its age explains: 20 failures, where 11.9 were to be expected." */
export function excessSentence({ modelName, group, current, observed, expected }: ExcessFailures): string {
  const today = current ? ", which is built today," : "";
  return (
    `Revision ${group} of ${modelName}${today} has failed more often than its age explains: ` +
    `${grouped(observed)} failures, where ${expected.toFixed(1)} were to be expected.`
  );
}

/** What "to be expected" means and how sure the differences are, for whoever asks; empty where there is none. */
export function excessGrounds(all: readonly ExcessFailures[]): string {
  const [first] = all;
  if (first === undefined) return "";
  const levels = all.map(({ group, adjustedP }) => `${group} ${sayP(adjustedP)}`).join(", ");
  return (
    "Expected means: had all revisions of the model failed alike at equal ages. Each revision was tested over all ages " +
    `against the others of its model (log-rank, adjusted for the ${first.tested} revisions tested): ${levels}.`
  );
}

function sayP(p: number): string {
  return p < 0.001 ? "p below 0.001" : `p = ${p.toPrecision(2)}`;
}
