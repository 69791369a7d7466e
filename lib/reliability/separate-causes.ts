import type { CompareBy } from "./compare-by";
import { compareFamily, type GroupEffect } from "./compare-strata";
import { type JointLives, lifeTableBy, type PlaceOfLives, type SetApart } from "./joint-lives";
import type { Reporting } from "./reporting";
import { standsAlone, testedGroups, type Worse } from "./what-got-worse";

/** More findings than a page of answers can hold; what follows stands in the tables. Engineering default, no authority. */
const MOST_LEADING = 4;

/** A group that was called worse, and what remains of that with the packs of what leads set apart; null where nothing compares. */
export interface Explained extends SetApart {
  readonly remains: GroupEffect | null;
}

/**
 * Packs of one lot are also packs of a revision, of a joining job and of a board lot of the same weeks, so one cause
 * raises several groups. The surest leads; what remains is compared again with the leader's packs set apart as strata of
 * their own, and so on: the surest then comes next. That a group was called once is no evidence then, since it can be the
 * leader's doing: it has to stand out anew among all groups of its attribute. Adjusting for those only that were called would not
 * do, since they were chosen by the failures that are asked again. `explained` are the groups that are not shown to fail
 * more then; `further` are those that do, beyond what a page of answers can hold.
 */
export function separateCauses(
  all: readonly Worse[],
  lives: readonly JointLives[],
  reportingBy: (by: CompareBy) => Reporting,
  placeBy: (by: CompareBy) => PlaceOfLives | undefined = () => undefined,
): { readonly leading: Worse[]; readonly explained: Explained[]; readonly further: SetApart[] } {
  const leading: Worse[] = [];
  const explained: Explained[] = [];
  let remaining = [...all];
  while (leading.length < MOST_LEADING) {
    const [surest, ...others] = remaining;
    if (surest === undefined) break;
    leading.push(surest);
    const apart = leading.map(({ by, effect }) => ({ by, group: effect.group }));
    remaining = [];
    for (const by of new Set(others.map((worse) => worse.by))) {
      const table = lifeTableBy(lives, by, apart, placeBy(by), ["confirmed"]);
      const ofThis = others.filter((one) => one.by === by);
      const isAsked = ({ group }: GroupEffect) => ofThis.some(({ effect }) => effect.group === group);
      const setApart = compareFamily(table, reportingBy(by), () => isAsked);
      for (const worse of ofThis) {
        const { group } = worse.effect;
        const effect = setApart.groups.find((one) => one.group === group) ?? null;
        if (standsAlone(effect))
          remaining.push({ ...worse, apart: { effect, from: apart, tested: testedGroups(setApart) } });
        else explained.push({ by, group, remains: effect });
      }
    }
    remaining.sort((a, b) => (a.apart?.effect.p ?? 1) - (b.apart?.effect.p ?? 1));
  }
  const further = remaining.map(({ by, effect }) => ({ by, group: effect.group }));
  return { leading, explained, further };
}
