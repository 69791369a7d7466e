import { countryName } from "./country-name";
import { type Goods, packingOf } from "./goods";
import type { Packing, Track, TransportRules } from "./rule-set.schema";
import { houseRule, type SourcedText } from "./sourced-text";
import type { TransportClass } from "./transport-class";

/** Countries of a way, ISO 3166-1 alpha-2; null where nobody has set which. */
export interface Way {
  readonly fromCountry: string | null;
  readonly toCountry: string | null;
}

/** What the rules at the other end of a way ask for, beside what the package is packed by. */
export interface OtherEnd {
  readonly trackName: string;
  /** Null where such a pack is not to be shipped. */
  readonly packing: Packing | null;
  readonly remarks: readonly SourcedText[];
  readonly critical: readonly SourcedText[];
}

/** That the rules a pack leaves under are not those of its whole way, or not known to be. */
export interface RouteWarning {
  readonly title: string;
  readonly sentences: readonly SourcedText[];
  /** Null where no rules are held for the other end. */
  readonly other: OtherEnd | null;
}

export const WHO_DECIDES =
  "A person qualified in dangerous goods decides for every leg of the way by which rules the pack is packed, marked and documented. Until then it does not leave.";

/** Ticked with the other points before such a pack leaves. */
export const LEGS_ARE_DECIDED =
  "A person qualified in dangerous goods has decided for every leg of the way which rules hold, and this package keeps them.";

export const TWO_SETS_OF_RULES = "This way crosses two sets of rules";
export const OTHER_END_NOT_KNOWN = "The rules at the end of this way are not held here";

/**
 * What is to be said where the two ends of a way do not lie under the same track of the rules; null where they do. A way between
 * them has legs, a sea crossing often among them, which no track says for certain: they are for a qualified person, not for a program.
 */
export function routeWarning(
  rules: TransportRules,
  { fromCountry, toCountry }: Way,
  transportClass: TransportClass,
  goods: Goods,
): RouteWarning | null {
  const leaves = trackOf(rules, fromCountry);
  const arrives = trackOf(rules, toCountry);
  if (leaves !== null && leaves === arrives) return null;
  if (leaves !== null && arrives !== null) {
    return {
      title: TWO_SETS_OF_RULES,
      sentences: [
        houseRule(
          `It leaves under “${leaves.name}” and arrives under “${arrives.name}”. What is ordered is by the first alone.`,
        ),
        houseRule(WHO_DECIDES),
      ],
      other: otherEnd(arrives, transportClass, goods),
    };
  }
  return {
    title: OTHER_END_NOT_KNOWN,
    sentences: [
      houseRule(
        toCountry === null
          ? "Nobody has said here in which country it arrives, so what stands here is by the rules it leaves under alone."
          : `The rules of version ${rules.version} hold nothing for ${countryName(arrives === null ? toCountry : (fromCountry ?? ""))}, so what stands here is not the whole of what its way asks for.`,
      ),
      houseRule(WHO_DECIDES),
    ],
    other: leaves === null && arrives !== null ? otherEnd(arrives, transportClass, goods) : null,
  };
}

export function trackOf(rules: TransportRules, country: string | null): Track | null {
  return rules.tracks.find(({ countries }) => country !== null && countries.includes(country)) ?? null;
}

function otherEnd(
  { name, damaged, notDamaged, remarks, critical }: Track,
  transportClass: TransportClass,
  goods: Goods,
): OtherEnd {
  if (transportClass === "do-not-ship") return { trackName: name, packing: null, remarks, critical };
  const packing = packingOf(transportClass === "damaged" ? damaged : notDamaged, goods);
  return { trackName: name, packing, remarks, critical };
}
