import type { CompareBy } from "./compare-by";
import { type DelayedBy, type GroupLags, hasOwnDelays, withoutDoubtTold } from "./group-lags";
import type { PlaceOfLives } from "./joint-lives";
import type { Reporting } from "./reporting";
import { type LagEstimate, reportingOf } from "./reporting-lag";

/** How what is compared by one attribute allows for late reports. */
export interface DelaysOf {
  readonly reporting: Reporting;
  /** Names the place whose delay each life is weighed by; missing where one delay stands for all, or each group is its own place. */
  readonly placeOfLives?: PlaceOfLives;
}

/** A delay for every pack, whatever it is compared by. */
export interface DelayPlaces {
  readonly groupLags: Readonly<Record<DelayedBy, GroupLags>>;
  readonly of: (by: CompareBy) => DelaysOf;
  /** Delays of the groups of an attribute, where these may have such of their own; else null. */
  readonly lagsOf: (by: CompareBy) => GroupLags | null;
}

/** Packs of all places that have no delay of their own. */
const ELSEWHERE = "";

/**
 * Answers: by which delay is each pack weighed?
 *
 * By that of the dealer who sold it where dealers are confirmed at different speeds and it has one, else by that of its country, where
 * countries differ, else by that of all. So in any comparison, by revision or lot as well as by dealer: a revision that is sold mostly in
 * a slow country would look better than it is by one delay for all, one sold in a fast one worse. Lives to be compared by anything need
 * the dealer of their sale beside it then (`attributesFor`).
 *
 * @param countryOf country of a dealer, both named as comparisons name them; those it does not know have none.
 */
export function delayPlaces(
  ofAll: LagEstimate,
  groupLags: DelayPlaces["groupLags"],
  countryOf: ReadonlyMap<string, string>,
): DelayPlaces {
  const { dealer, country } = groupLags;
  const pooled = reportingOf(ofAll);
  const isOne = dealer.own.size === 0 && country.own.size === 0;
  const placeOfDealer = (name: string): string => {
    if (dealer.own.has(name)) return name;
    const of = countryOf.get(name) ?? "";
    return country.own.has(of) ? `in ${of}` : ELSEWHERE;
  };
  const byPlace = new Map<string, Reporting>([
    ...[...dealer.own].map(([name, { reporting }]): [string, Reporting] => [name, reporting]),
    ...[...country.own].map(([name, { reporting }]): [string, Reporting] => [`in ${name}`, reporting]),
  ]);
  const ofOthers = withoutDoubtTold(pooled);
  const reporting: Reporting = { ...pooled, ofPlace: (place) => byPlace.get(place) ?? ofOthers };
  const placeOfLives: PlaceOfLives = (groups) => placeOfDealer(groups.get("dealer") ?? "");
  const lagsOf = (by: CompareBy) => (hasOwnDelays(by) ? groupLags[by] : null);
  return {
    groupLags,
    lagsOf,
    of: (by) => {
      if (!isOne && by !== "dealer") return { reporting, placeOfLives };
      return { reporting: lagsOf(by)?.reporting ?? pooled };
    },
  };
}

/** The attributes lives have to be read by, so that their places are known. */
export function attributesFor(compared: readonly CompareBy[]): CompareBy[] {
  return [...new Set<CompareBy>([...compared, "dealer"])];
}
