import { type CompareBy, compareByWords } from "./compare-by";
import { CALLED_BELOW } from "./compare-strata";
import { type GroupLags, hasOwnDelays, type OwnDelay } from "./group-lags";
import { grouped, sayP } from "./plain-share";
import { otherPaceSentence } from "./reporting-lag";

/** What stands beside a comparison of dealers or countries. */
export function groupLagsSentence({ by, p, draws, own, withoutOwn }: GroupLags): string {
  const { one, many } = compareByWords[by];
  if (p === null)
    return `Whether failures of some ${many} are confirmed later than those of others cannot be told yet: one delay is taken for all, and a slow ${one} looks better than it is, a fast one worse.`;
  const how =
    draws === null ? "log-rank test of the delays" : `the delays dealt out anew among them ${grouped(draws)} times`;
  const test = `(${how}: ${sayP(p)})`;
  if (p >= CALLED_BELOW)
    return `The ${many} give no sign that failures of some are confirmed later than those of others ${test}: one delay is taken for all. Were some all the same slower, they would look better than they are, and faster ones worse.`;
  const taken =
    own.size === 0
      ? `no ${one} has enough confirmed failures for a delay of its own`
      : `each of ${grouped(own.size)} ${own.size === 1 ? one : many} is given its own`;
  const others =
    withoutOwn.length === 0
      ? ""
      : `; for ${withoutOwn.join(", ")}, of which too few failures are confirmed, that of all is taken, and a slow one among these looks better than it is, a fast one worse`;
  const tails = [...own].map(([group, { followedDays }]) =>
    followedDays === null
      ? ""
      : `; hardly any failure of ${group} was told more than ${sayDays(followedDays)} ago, so longer delays are taken from those of all, and if it is slow it can look better than it is, if it is fast worse`,
  );
  return `Failures of some ${many} are confirmed later than those of others ${test}: ${taken}${tails.join("")}${others}.`;
}

/** Beside a comparison by anything but dealers or countries where dealers differ. Empty where they do not. */
export function eachByItsDealerSentence(compared: CompareBy, dealers: GroupLags): string {
  if (hasOwnDelays(compared) || dealers.p === null || dealers.p >= CALLED_BELOW) return "";
  const { one } = compareByWords[compared];
  const without =
    dealers.withoutOwn.length === 0
      ? ""
      : ` Of ${dealers.withoutOwn.join(", ")} too few failures are confirmed for that: of a ${one} sold mostly there little can be told yet.`;
  return `Failures of some dealers are confirmed later than those of others, so each pack counts by the delay of the dealer it was sold by, or of its country or of all where that dealer has none of its own.${without}`;
}

/** The delay that the page of one group corrects by, where that is its own. */
export function ownDelaySentence(group: string, { medianDays, mostDays, returns, followedDays }: OwnDelay): string {
  const tail =
    followedDays === null
      ? ""
      : `, its own up to ${sayDays(followedDays)}, beyond that by what failures of all show, since hardly any of its own is old enough`;
  return `Half of the failures of ${group} are confirmed at the bench within ${sayDays(medianDays)} of being told, 95 of 100 within ${sayDays(mostDays)} (from ${grouped(returns)} of its own${tail}). Its curve, its ratio and what is left out of its law go by that. ${otherPaceSentence("its newest packs")}`;
}

/** "1 day", "1,234 days". */
export function sayDays(days: number): string {
  return days === 1 ? "1 day" : `${grouped(days)} days`;
}
