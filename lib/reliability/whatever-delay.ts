import { exactOfSides } from "@/lib/stats/exact-against-others";
import { countsOfSides } from "@/lib/stats/two-sides";
import { type CountedSets, countedAlike, joinSides, membersOf, twoSides } from "./counted-sets";
import { unknownTail } from "./delay-tail";
import { cutCellBack } from "./hidden-exposure";
import { type LifeCell, type LifeTable, MOST_SLACK_DAYS, placeOf } from "./life-cell";
import { type Reporting, reportingAt } from "./reporting";

/** A difference that was called: the group, where it is compared, and whether it fails more. */
export interface Called {
  readonly group: string;
  readonly strata: readonly string[];
  readonly isMore: boolean;
}

/** Where of a failure less than this may be known, it is not weighed but left out. Engineering default, no authority. */
const LEAST_WEIGHED = 0.25;

/**
 * Answers, of a difference that is called: how likely would it be by chance in the case that speaks most against it, whatever the
 * delays of the two sides are, so far as they are in doubt?
 *
 * A ratio is corrected by a delay that was learnt from failures told before, and has limits of its own (`DelayDoubt`). Here the side that
 * is to fail more has as many of its failures known already as these limits allow, and the other side as few, each pack by the delay
 * of its place. Where nothing is known of a place, all of the first are known, and of the second counts only what was told so long
 * ago (`MOST_SLACK_DAYS`) that no delay that is waited for can hide any of it.
 *
 * @returns exact mid-p; 1 where the difference turns round then, or nothing can be compared any more.
 */
export function pWhateverDelay(doubted: DoubtedSets, { group, strata, isMore }: Called): number {
  const { most, least } = doubted;
  const [its, others] = isMore ? [most, least] : [least, most];
  const sides = its.strata.flatMap((stratum, s) => {
    if (!strata.includes(stratum.stratum)) return [];
    const own = twoSides(stratum, membersOf(its, group));
    const rest = twoSides(others.strata[s] ?? stratum, membersOf(others, group));
    return [joinSides(own, rest)];
  });
  const { observed, expected } = countsOfSides(sides);
  if (observed > expected !== isMore) return 1;
  return exactOfSides(sides) ?? 1;
}

/** Risk sets of all groups with as many of the failures known as the doubt allows, and with as few; at the same ages. */
interface DoubtedSets {
  readonly most: CountedSets;
  readonly least: CountedSets;
}

/**
 * Counted once for all groups that are asked, when the first one is.
 *
 * @param others lives of those a group is held against, where they are other than its own.
 */
export function doubtedSets(table: LifeTable, reporting: Reporting, others: LifeTable = table): () => DoubtedSets {
  let known: DoubtedSets | undefined;
  return () => {
    if (known !== undefined) return known;
    const sure = { ...others, cells: sureOf(others.cells.filter(isConfirmedLine), reporting) };
    const [most, least] = countedAlike(
      { table, reporting: asMuchKnown(reporting) },
      { table: sure, reporting: asLittleKnown(reporting) },
    );
    known = { most, least };
    return known;
  };
}

function isConfirmedLine({ line }: LifeCell): boolean {
  return line === "confirmed";
}

/** With as many of the failures known already as the doubt about the delay allows. */
export function asMuchKnown(reporting: Reporting): Reporting {
  return doubted(reporting, ({ mostKnown }) => mostKnown);
}

/** With as few. */
export function asLittleKnown(reporting: Reporting): Reporting {
  return doubted(reporting, ({ leastKnown }) => leastKnown);
}

function doubted(
  reporting: Reporting,
  shareOf: (doubt: NonNullable<Reporting["doubt"]>) => Reporting["shareKnown"],
): Reporting {
  const { ofPlace, doubt } = reporting;
  const taken = { shareKnown: shareOf(doubt ?? unknownTail), longestLagDays: MOST_SLACK_DAYS };
  if (ofPlace === undefined) return taken;
  const known = new Map<string, Reporting>();
  return {
    ...taken,
    ofPlace: (place) => {
      const own = known.get(place) ?? doubted(ofPlace(place), shareOf);
      known.set(place, own);
      return own;
    },
  };
}

/** Without what was told so lately that hardly any of it may be known. */
export function sureOf(cells: readonly LifeCell[], reporting: Reporting): LifeCell[] {
  const least = asLittleKnown(reporting);
  const cutOf = new Map<string, number>();
  const sure: LifeCell[] = [];
  for (const cell of cells) {
    const place = placeOf(cell);
    const days = cutOf.get(place) ?? daysUnsure(reportingAt(least, place));
    cutOf.set(place, days);
    const cut = cutCellBack(cell, days);
    if (cut !== null) sure.push(cut);
  }
  return sure;
}

function daysUnsure({ shareKnown }: Reporting): number {
  let days = 0;
  while (days < MOST_SLACK_DAYS && shareKnown(days) < LEAST_WEIGHED) days += 1;
  return days;
}
