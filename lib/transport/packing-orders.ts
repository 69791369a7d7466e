import { type Goods, goodsOf, packingOf } from "./goods";
import type { PackageMark } from "./package-mark";
import { LEGS_ARE_DECIDED, type RouteWarning, routeWarning, trackOf } from "./route";
import type { Packing, Track, TransportRules } from "./rule-set.schema";
import { houseRule, type SourcedText } from "./sourced-text";
import type { TransportClass } from "./transport-class";

export interface Shipment {
  readonly transportClass: TransportClass;
  /** Net mass of the pack. */
  readonly massKg: number;
  /** Country the pack leaves from, ISO 3166-1 alpha-2; null where nobody said which. */
  readonly fromCountry: string | null;
  /** Country the pack goes to; null where nobody said which. */
  readonly toCountry: string | null;
  readonly inEquipment: boolean;
}

/** How one pack is packed and marked, every sentence with its source. */
export type PackingOrders =
  | {
      readonly kind: "pack";
      readonly trackName: string;
      readonly unNumber: Goods["unNumber"];
      readonly properShippingName: Goods["properShippingName"];
      readonly packing: Packing;
      /** Set where the pack must be alone in its outer packaging. */
      readonly alone: SourcedText | null;
      readonly marks: readonly PackageMark[];
      readonly air: readonly SourcedText[];
      readonly remarks: readonly SourcedText[];
      readonly checklist: readonly SourcedText[];
      /** Set where the way does not lie under these rules alone. */
      readonly route: RouteWarning | null;
    }
  | {
      readonly kind: "do-not-ship";
      readonly rules: readonly SourcedText[];
      readonly air: readonly SourcedText[];
      readonly route: RouteWarning | null;
    }
  | { readonly kind: "no-rules-for-country"; readonly sentence: string };

/**
 * The packing orders for one pack under one version of the rules. A country without a track gets none: an adviser must
 * name the rules first. "One per outer packaging" is ordered for every return (one unit, one label); above the mass
 * of the rule it is the law that says so, and its sentence is shown.
 */
export function packingOrders(rules: TransportRules, shipment: Shipment): PackingOrders {
  const { fromCountry } = shipment;
  const track = trackOf(rules, fromCountry);
  const goods = goodsOf(shipment.inEquipment);
  const route = routeWarning(rules, shipment, shipment.transportClass, goods);
  if (shipment.transportClass === "do-not-ship") {
    return { kind: "do-not-ship", rules: (track ?? firstTrack(rules)).critical, air: rules.air, route };
  }
  if (track === null) {
    if (fromCountry === null) {
      const sentence = "Nobody has set the country that packs leave from (MAKER_COUNTRY), so nothing is printed.";
      return { kind: "no-rules-for-country", sentence };
    }
    return {
      kind: "no-rules-for-country",
      sentence: `The rules of version ${rules.version} hold no track for packs that leave from ${fromCountry}. Nothing is printed until ${rules.owner} has named one.`,
    };
  }
  const packing = packingOf(shipment.transportClass === "damaged" ? track.damaged : track.notDamaged, goods);
  return {
    kind: "pack",
    trackName: track.name,
    ...goods,
    packing,
    alone: shipment.massKg > rules.aloneAboveKg.kg ? rules.aloneAboveKg.rule : null,
    marks: packing.marks,
    air: rules.air,
    remarks: track.remarks,
    checklist: route === null ? rules.checklist : [...rules.checklist, houseRule(LEGS_ARE_DECIDED)],
    route,
  };
}

function firstTrack(rules: TransportRules): Track {
  const [first] = rules.tracks;
  if (first === undefined) throw new RangeError("a rule set has at least one track");
  return first;
}
