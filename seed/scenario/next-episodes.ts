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
export function comebackOf(episode: Episode, decision: ScenarioDecision, decidedOn: CalendarDate): Episode | null {
  const random = seededRandom(seedFrom(`comeback/${episode.serial}/${episode.noticedOn}`));
  if (!random.chance(comebackShare[decision.remedy] ?? 0)) {
    return null;
  }
  const hidden: Fault = random.pick(["sense-wire", "high-resistance-joint"]);
  const fault = episode.fault === "no-fault-found" ? hidden : episode.fault;
  const noticedOn = plusDays(decidedOn, random.integer(16, 110));
  const { serial, dealer, inUseSince } = episode;
  return episodeFrom({ serial, dealer, fault, inUseSince, noticedOn }, random);
}

/** A replacement may fail as well; its life began when it was handed over. */
export function failureOfReplacement(pack: ScenarioPack, episode: Episode, deliveredOn: CalendarDate): Episode | null {
  const random = seededRandom(seedFrom(`life/${pack.serial}`));
  const { fault, ageDays } = firstFault(pack, random);
  if (ageDays > 730) {
    return null;
  }
  const noticedOn = plusDays(deliveredOn, ageDays);
  return episodeFrom(
    { serial: pack.serial, dealer: episode.dealer, fault, inUseSince: deliveredOn, noticedOn },
    random,
  );
}
