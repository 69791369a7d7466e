import { transportRulesSchema } from "./rule-set.schema";
import { definition, overseasTrack, roadSeaTrack } from "./rules-road-sea";
import { unitedStatesTrack } from "./rules-us";
import { fromMemory, houseRule, practice, readIn } from "./sourced-text";

const EBOOK = "the lithium battery transport e-book of batteriestransport.org, 2023";

/**
 * The rule set this program proposes. A change of any sentence needs a new version, and every version is confirmed by
 * the maker's dangerous-goods safety adviser before a pack can be called "not damaged" under it.
 */
export const transportRules = transportRulesSchema.parse({
  version: "2025-1",
  validFrom: "2025-01-01",
  owner: "the maker's dangerous-goods safety adviser",
  definition,
  tracks: [roadSeaTrack, unitedStatesTrack, overseasTrack],
  air: [
    houseRule("No returned pack goes by air, whatever its class."),
    readIn(
      `${EBOOK}, p. 40 and 144`,
      "By air are forbidden: batteries damaged or defective for safety reasons that may give off dangerous heat, burn or short-circuit, such as those returned to the maker for safety reasons or those that cannot be diagnosed.",
    ),
    fromMemory(
      "IATA Dangerous Goods Regulations, special provision A154",
      "The same stands in the rules of the airlines.",
    ),
  ],
  aloneAboveKg: {
    kg: 30,
    rule: readIn(
      "ADR 2015, packing instruction P908 (German text)",
      "A battery of more than 30 kg net goes alone into its outer packaging.",
    ),
  },
  authorisationDays: 14,
  checklist: [
    practice("The serial on the pack is the serial on this sheet."),
    practice("One pack, one package, one label: packs of several returns never share a box."),
    practice(
      "The pack is cool to the hand, does not smell, hiss or swell. If it changes: step back, call the emergency number.",
    ),
    practice("The contacts are covered so that nothing can touch them."),
    practice("The charge of the pack was left as it is, unless the service desk asked otherwise in writing."),
    practice("The packaging is the one named on this sheet, undamaged, closed as its maker says."),
    practice("The marks named on this sheet stand on the package and can be read; old marks are covered."),
    practice("The packed box was photographed, open and closed."),
    houseRule("The person who packs and hands over is trained for dangerous goods, and signs here."),
    houseRule(
      "The carrier takes dangerous goods of class 9 by road, and was told what this is. No post, no parcel counter, no air.",
    ),
  ],
});
