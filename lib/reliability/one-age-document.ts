import { fisherExact } from "@/lib/stats/fisher-exact";
import type { GroupLives } from "./group-comparison";
import type { Refused } from "./weibull-document";

/** Shares failed by one age, up to which every unit was watched: there, and there only, they can be compared as plain shares. */
export interface OneAgeDocument {
  readonly age: number;
  readonly groups: readonly {
    readonly group: string;
    readonly failed: number;
    readonly units: number;
    /** Of this group against all others together: Fisher's exact test, mid-p as in every other comparison, with the limits of the odds ratio of that family. */
    readonly p: number;
    readonly oddsRatio: number | null;
    readonly lower: number;
    readonly upper: number | null;
  }[];
}

/**
 * Answers: of units all watched up to one age, which group has failed more by it? The age is the youngest at which a unit was
 * last seen running. Refused where units were first seen late, or nobody has failed by that age.
 */
export function oneAgeDocument(groups: readonly GroupLives[]): OneAgeDocument | Refused {
  const all = groups.flatMap(({ counts }) => counts);
  if (all.some(({ age, entered }) => entered > 0 && age > 0))
    return { refused: "Some units were first seen at a later age, so plain shares cannot be compared." };
  const running = all.filter(({ censored }) => censored > 0).map(({ age }) => age);
  const age = running.length > 0 ? Math.min(...running) : Math.max(0, ...all.map((count) => count.age));
  const members = groups.map(({ group, counts }) => ({
    group,
    units: counts.reduce((sum, { entered }) => sum + entered, 0),
    failed: counts.reduce((sum, count) => sum + (count.age <= age ? count.failed : 0), 0),
  }));
  const [units, failed] = [sum(members.map((one) => one.units)), sum(members.map((one) => one.failed))];
  if (failed === 0)
    return { refused: `No unit had failed by ${age}, the youngest age at which one was last seen running.` };
  return {
    age,
    groups: members.map((one) => {
      const rest = { failed: failed - one.failed, units: units - one.units };
      const { p, oddsRatio, lower, upper } = fisherExact(
        { first: [one.failed, one.units - one.failed], second: [rest.failed, rest.units - rest.failed] },
        "mid-p",
      );
      return { ...one, p, oddsRatio, lower, upper };
    }),
  };
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
