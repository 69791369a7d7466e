import type { Fault } from "@/lib/diagnosis/finding";
import type { DecidableRemedy } from "@/lib/returns/decision.schema";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { seededRandom, seedFrom } from "../simulator/seeded-random";
import { type Episode, episodeFrom } from "./episode";
import { firstFault } from "./failure-process";
import type { ScenarioDecision, ScenarioPack } from "./scenario";

/** Share that comes back after each remedy: invented. A pack handed back unchanged often had something after all. */
const comebackShare: Readonly<Partial<Record<DecidableRemedy, number>>> = {
  repair: 0.06,
  "remote-fix": 0.08,
  "return-as-is": 0.2,
};

/** The same pack once more: repaired in vain, or handed back with a fault that comes and goes. */
export function comebackOf(
  episode: Episode,
  decision: ScenarioDecision,
  decidedOn: CalendarDate,
  asOf: CalendarDate,
): Episode | null {
  const random = seededRandom(seedFrom(`comeback/${episode.storySerial}/${episode.storyNoticedOn}`));
  if (!random.chance(comebackShare[decision.remedy] ?? 0)) {
    return null;
  }
  const hidden: Fault = random.pick(["sense-wire", "high-resistance-joint"]);
  const fault = episode.fault === "no-fault-found" ? hidden : episode.fault;
  const noticedOn = plusDays(decidedOn, random.integer(16, 110));
  const { serial, storySerial, dealer, inUseSince } = episode;
  return episodeFrom({ serial, storySerial, dealer, fault, inUseSince, noticedOn }, asOf, random);
}

/** A replacement may fail as well; its life began when it was handed over. */
export function failureOfReplacement(
  pack: ScenarioPack,
  episode: Episode,
  deliveredOn: CalendarDate,
  asOf: CalendarDate,
): Episode | null {
  const random = seededRandom(seedFrom(`life/${pack.storySerial}`));
  const { fault, ageDays } = firstFault(pack, random);
  if (ageDays > 730) {
    return null;
  }
  const noticedOn = plusDays(deliveredOn, ageDays);
  const { serial, storySerial } = pack;
  const { dealer } = episode;
  return episodeFrom({ serial, storySerial, dealer, fault, inUseSince: deliveredOn, noticedOn }, asOf, random);
}
