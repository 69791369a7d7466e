import type { PackModel } from "@/lib/packs/pack-model";
import { daysBetween, plusDays } from "@/lib/warranty/calendar";
import { plainStyle, someStyle } from "../simulator/csv-style";
import { renderCsv } from "../simulator/render-csv";
import { type SeededRandom, seededRandom, seedFrom } from "../simulator/seeded-random";
import { simulateLog } from "../simulator/simulate-log";
import type { Severity, SimulatedFault } from "../simulator/simulated-fault";
import type { Episode } from "./episode";
import type { ScenarioPack, ScenarioReadings } from "./scenario";

/** Mean full cycles a day of an ordinary rider: invented. */
const cyclesPerDay = 0.33;
/** Readings are taken while the pack stands at the dealer's, and reach back from there. */
const hoursBeforeLodging = 62;

/** The readings file that came with a return, made only when asked for. */
export function readingsFor(pack: ScenarioPack, model: PackModel, episode: Episode): ScenarioReadings {
  const key = `readings/${pack.storySerial}/${episode.storyNoticedOn}`;
  const random = seededRandom(seedFrom(key));
  const truth = simulatedFault(episode, model, random);
  const style = random.chance(0.1) ? plainStyle : someStyle(random);
  const ageDays = daysBetween(episode.inUseSince, episode.noticedOn);
  const startUnixS = Math.floor(Date.parse(episode.lodgedAt) / 1000) - hoursBeforeLodging * 3600;
  const ambientC = Math.round(random.normal(seasonC(episode), 2.5));
  return {
    fileName: `${pack.serial}-${episode.lodgedOn.replaceAll("-", "")}.csv`,
    truth,
    csv: () =>
      renderCsv(
        simulateLog({
          model,
          serial: pack.serial,
          seed: seedFrom(`${key}/log`),
          fault: truth,
          startUnixS,
          ambientC,
          cycleCount: Math.max(1, Math.round(ageDays * cyclesPerDay)),
          builtCapacityAh: pack.build.capacityAh,
          builtGroupResistanceMilliohm: pack.build.groupResistanceMilliohm,
        }),
        style,
      ),
  };
}

function simulatedFault(episode: Episode, model: PackModel, random: SeededRandom): SimulatedFault {
  const draw = random.next();
  const severity: Severity = draw < 0.2 ? "slight" : draw < 0.75 ? "clear" : "severe";
  return { fault: episode.fault, groups: faultyGroups(episode, model.groups, random), severity };
}

function faultyGroups(episode: Episode, groups: number, random: SeededRandom): number[] {
  const one = random.integer(2, groups - 1);
  switch (episode.fault) {
    case "weak-cell":
    case "high-resistance-cell":
    case "high-resistance-joint":
    case "self-discharge":
      return [one];
    case "sense-wire":
      return random.chance(0.12) ? [random.chance(0.5) ? 1 : groups] : [one, one + 1];
    case "imbalance":
      return random.chance(0.5) ? [one] : [one, (one % groups) + 1].sort((a, b) => a - b);
    case "measurement-fault": {
      const from = random.chance(0.5) ? 1 : Math.floor(groups / 2) + 1;
      return Array.from({ length: Math.floor(groups / 2) }, (_, i) => from + i);
    }
    case "over-discharge":
      return [one, one === 2 ? 3 : one - 1].sort((a, b) => a - b);
    case "water-ingress":
      return [1, 2, 3];
    case "acute-event":
      return [one, one + 1, one - 1];
    default:
      return [];
  }
}

/**
 * Mean temperature of the month at the dealer's place, degC, in the season of the story: rough and invented, the south
 * turned round.
 */
function seasonC({ dealer, noticedOn, storyNoticedOn, lodgedOn }: Episode): number {
  const climate: Readonly<Record<string, readonly [number, number]>> = {
    DE: [11, 9],
    PT: [17, 6],
    US: [16, 5],
    AU: [18, -5],
    IN: [26, 4],
  };
  const [mean, swing] = climate[dealer.country] ?? [15, 8];
  const storyLodgedOn = plusDays(storyNoticedOn, daysBetween(noticedOn, lodgedOn));
  const month = Number(storyLodgedOn.slice(5, 7));
  return mean - swing * Math.cos((2 * Math.PI * (month - 1)) / 12);
}
