import type { Fault } from "@/lib/diagnosis/finding";
import { type CalendarDate, plusDays, plusMonths } from "@/lib/warranty/calendar";
import { seededRandom, seedFrom } from "../simulator/seeded-random";
import { type Episode, episodeFrom } from "./episode";
import { firstFault } from "./failure-process";
import { badCellLotCode } from "./lots";
import type { ScenarioDealer, ScenarioPack, ScenarioSale } from "./scenario";
import type { StoryCalendar } from "./story-calendar";

export interface FirstEpisodes {
  readonly episodes: readonly Episode[];
  /** Sales of which we know: those of a late joiner that had already failed when it joined never reached us. */
  readonly knownSales: readonly ScenarioSale[];
}

const coverMonths = 24;
/** Share of faults after the cover that still come in, in the hope of goodwill: invented. */
const hopefulShare = 0.3;

/** The first fault of every sold pack, as far as it was lodged by the data date. */
export function firstEpisodes(
  sales: readonly ScenarioSale[],
  packs: ReadonlyMap<string, ScenarioPack>,
  dealers: ReadonlyMap<string, ScenarioDealer>,
  asOf: CalendarDate,
  at: StoryCalendar,
): FirstEpisodes {
  const episodes: Episode[] = [];
  const knownSales: ScenarioSale[] = [];
  for (const sale of sales) {
    const pack = packs.get(sale.serial);
    const dealer = dealers.get(sale.dealerCode);
    if (pack === undefined || dealer === undefined) {
      throw new RangeError(`sale: no pack or dealer for ${sale.serial}`);
    }
    const random = seededRandom(seedFrom(`life/${pack.storySerial}`));
    const { fault, ageDays } = firstFault(pack, random);
    const noticedOn = ageDays > 4000 ? null : plusDays(sale.soldOn, ageDays);
    if (noticedOn !== null && noticedOn <= sale.underObservationFrom && sale.underObservationFrom > sale.soldOn) {
      continue;
    }
    knownSales.push(sale);
    if (noticedOn === null || (noticedOn > plusMonths(sale.soldOn, coverMonths) && !random.chance(hopefulShare))) {
      continue;
    }
    const { serial, soldOn: inUseSince } = sale;
    const { storySerial } = pack;
    const episode = episodeFrom({ serial, storySerial, dealer, fault, inUseSince, noticedOn }, asOf, random);
    if (episode.lodgedOn < asOf) {
      episodes.push(episode);
    }
  }
  return { episodes: withTheFire(episodes, packs, at), knownSales };
}

/** One leaking pack of the bad lot does not merely leak: the acute event of the story, in its last winter. */
function withTheFire(
  episodes: readonly Episode[],
  packs: ReadonlyMap<string, ScenarioPack>,
  at: StoryCalendar,
): readonly Episode[] {
  const candidates = episodes.filter(({ serial, fault, noticedOn }) => {
    const inBadLot = packs.get(serial)?.lotCodes.includes(badCellLotCode) ?? false;
    return inBadLot && fault === "self-discharge" && noticedOn >= at("2025-10-01") && noticedOn < at("2026-10-01");
  });
  const chosen = candidates.sort((a, b) => (a.noticedOn < b.noticedOn ? -1 : 1))[0];
  const acute: Fault = "acute-event";
  return episodes.map((episode) => (episode === chosen ? { ...episode, fault: acute } : episode));
}
