import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import type { CoverOutcome } from "@/lib/warranty/cover";
import { countryName } from "./country-name";
import { fromMemory, readIn, type SourcedText } from "./sourced-text";
import { unionAndArea } from "./union-and-area";

const ANNEX = "Regulation (EU) 2023/1542, Annex XIV (German text)";

/** What the sheet states, to be completed and signed by the holder. Marked for counsel: no wording here was reviewed. */
export interface UsedBatteryStatement {
  readonly title: string;
  readonly forCounsel: string;
  readonly statements: readonly SourcedText[];
  readonly enclosures: readonly SourcedText[];
}

/** What makes a return one for repair under guarantee, or not. */
export interface StatedReturn {
  readonly coverOutcome: CoverOutcome;
  /** The remedy that was decided and stands; null while nothing is. */
  readonly decidedRemedy: DecidableRemedy | null;
}

/**
 * Why nobody may state that a battery goes back for repair under guarantee with the intention of re-use; null where that
 * can be stated. Nobody signs what the program knows to be untrue, or does not know yet.
 */
export function whyNoStatement({ coverOutcome, decidedRemedy }: StatedReturn): string | null {
  const ask = "Ask whoever advises you on waste law which papers go with it.";
  if (coverOutcome === "cannot-tell-yet")
    return `This sheet states a repair under guarantee, and whether the guarantee covers this return is not known yet. ${ask}`;
  if (coverOutcome === "outside-makers-guarantee")
    return `This sheet states a repair under guarantee, and this return is outside the maker's guarantee. ${ask}`;
  if (decidedRemedy !== null && decidedRemedy !== "repair")
    return `This sheet states a repair with the intention of re-use, and something else was decided. ${ask}`;
  return null;
}

/**
 * Contents of the sheet that goes with a used battery sent back for repair under guarantee, so that it is not taken for
 * waste. Source: Regulation (EU) 2023/1542, Annex XIV: point 2(a) lifts points 1(a), 1(b) and 3 where documents show a
 * business-to-business transfer agreement and a return to the maker for repair under guarantee with the intention of
 * re-use; points 1(c) (no waste in the consignment) and 1(d) (protection against damage) remain.
 */
export function usedBatteryStatement(fromCountry: string): UsedBatteryStatement {
  return {
    title: "Used battery returned for repair under guarantee",
    forCounsel: unionAndArea.includes(fromCountry)
      ? "Draft for counsel: have this wording reviewed before it is used."
      : `Draft for counsel: have this wording reviewed before it is used. It is written for authorities of the European Union; which papers ${countryName(fromCountry)} asks for is not in it.`,
    statements: [
      readIn(
        `${ANNEX}, point 2(a)`,
        "The used battery named on this sheet is sent back to its manufacturer, or to a third party acting for it, for repair under guarantee with the intention of re-use.",
      ),
      readIn(
        `${ANNEX}, point 2`,
        "The shipment takes place under a business-to-business transfer agreement; a copy is enclosed.",
      ),
      readIn(
        `${ANNEX}, point 1(c)`,
        "The holder declares that none of the materials or parts in this consignment is waste as defined in Article 3(1) of Directive 2008/98/EC.",
      ),
      readIn(
        `${ANNEX}, point 1(d)`,
        "The battery is protected appropriately against damage during transport, loading and unloading, by sufficient packaging and appropriate stacking of the load.",
      ),
      fromMemory(
        "Regulation (EU) 2023/1542, Annex XIV, the points after 3",
        "The load is accompanied by its transport document and by a declaration of the person who arranges the shipment on its responsibility.",
      ),
    ],
    enclosures: [
      readIn(`${ANNEX}, point 2`, "Copy of the business-to-business transfer agreement"),
      fromMemory(
        "Regulation (EU) 2023/1542, Annex XIV, the points after 3",
        "Transport document (for road: CMR waybill)",
      ),
    ],
  };
}
