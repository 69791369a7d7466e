import { type CalendarDate, laterOf, plusDays } from "@/lib/warranty/calendar";
import { type SeededRandom, seededRandom, seedFrom } from "../simulator/seeded-random";
import type { BuiltPack } from "./production";
import type { ScenarioDealer, ScenarioEvidence, ScenarioSale } from "./scenario";
import { stableId } from "./stable-id";
import { storyDateOf } from "./story-calendar";

/** Where a pack went: null stands for still in the maker's own store. */
export interface Dispatch {
  readonly dispatchedOn: CalendarDate;
  readonly dealer: ScenarioDealer;
}

/** Share of the packs kept back in the maker's store, from which replacements are taken. */
const keptBackShare = 0.04;
/** Mean days on the dealer's shelf in the season and for packs that come after it: invented. */
const shelfInSeasonDays = 34;
const shelfOutOfSeasonDays = 150;

/** Sends a pack to one of the dealers that were selling by then, a few days to weeks after it was built. */
export function dispatchOf(pack: BuiltPack, dealers: readonly ScenarioDealer[], asOf: CalendarDate): Dispatch | null {
  const random = seededRandom(seedFrom(`dispatch/${pack.storySerial}`));
  const dispatchedOn = plusDays(pack.builtOn, random.integer(4, 24));
  const selling = dealers.filter((dealer) => dealer.sellingSince <= dispatchedOn);
  const [first, ...others] = selling;
  if (random.chance(keptBackShare) || dispatchedOn > asOf || first === undefined) {
    return null;
  }
  return { dispatchedOn, dealer: random.pick([first, ...others]) };
}

/** The sale of a dispatched pack, or null while it stands on the shelf. Spring and summer of the story sell, winter does not. */
export function saleOf(pack: BuiltPack, dispatch: Dispatch, asOf: CalendarDate): ScenarioSale | null {
  const random = seededRandom(seedFrom(`sale/${pack.storySerial}`));
  const { dealer, dispatchedOn } = dispatch;
  const inSeason = isSeason(storyDateOf(dispatchedOn, asOf), dealer.country);
  const shelfDays = 2 - (inSeason ? shelfInSeasonDays : shelfOutOfSeasonDays) * Math.log(1 - random.next());
  const soldOn = plusDays(dispatchedOn, Math.round(shelfDays));
  if (soldOn > asOf) {
    return null;
  }
  return {
    id: stableId("sale", pack.serial, `${soldOn}T12:00:00Z`),
    serial: pack.serial,
    dealerCode: dealer.code,
    soldOn,
    zone: dealer.zone,
    evidence: evidenceOf(random),
    buyerKind: random.chance(0.83) ? "consumer" : "business",
    underObservationFrom: laterOf(soldOn, dealer.joinedOn),
  };
}

function evidenceOf(random: SeededRandom): ScenarioEvidence {
  return random.chance(0.6) ? "proof-of-purchase" : "dealer-registration";
}

function isSeason(date: CalendarDate, country: string): boolean {
  const month = Number(date.slice(5, 7));
  const northernMonth = country === "AU" ? ((month + 5) % 12) + 1 : month;
  return northernMonth >= 2 && northernMonth <= 7;
}
