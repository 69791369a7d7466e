import type { GroupEffect } from "./compare-strata";
import { sayRatio } from "./worse-sentences";

/** Up to how many times as often as its likes a group may fail by its upper 95 % limit; null where nothing limits it yet. */
export interface NotExcluded {
  readonly group: string;
  readonly upTo: number | null;
}

/** What the comparison does not exclude of these groups: where nothing is shown that is the measure of what could be missed. */
export function notExcluded(groups: readonly string[], effects: readonly GroupEffect[]): NotExcluded[] {
  return groups.map((group) => {
    const ratio = effects.find((effect) => effect.group === group)?.ratio ?? null;
    return { group, upTo: ratio?.upper ?? null };
  });
}

/** The answer where nothing is shown to fail more, with what that leaves open. */
export function nothingSentence(tested: number, open: readonly NotExcluded[]): string {
  if (tested === 0)
    return "It cannot be told yet whether anything got worse: no two groups of packs of one model have failures at ages that both have reached.";
  return `Nothing is shown to have got worse: of none of the ${tested} revisions, lots and dealers looked at can it be told that it fails more than the others of its model. That is no all-clear.${openSentence(open)}`;
}

function openSentence(open: readonly NotExcluded[]): string {
  if (open.length === 0) return "";
  const words = open.map(({ group, upTo }) =>
    upTo === null
      ? `how often ${group} fails is not limited at all yet`
      : `${group} may fail up to ${sayRatio(upTo)} times as often as the others of its model`,
  );
  return ` Of what is built today: ${words.join("; ")} (upper 95 % limits).`;
}
