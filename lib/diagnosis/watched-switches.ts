import type { Evidence } from "@/lib/diagnosis/evidence";
import { switchWarming } from "@/lib/diagnosis/switch-warming";
import { counted, inDigits, lowerFirst } from "@/lib/diagnosis/wording";
import { switchHeat, switchHeatInAll } from "@/lib/readings/measure/switch-heat";

/** Standard errors by which the heating must have grown. Engineering default. */
const heatingSigmas = 2;

/** Switches at the limit of a fault in rows too far apart to be one: so many are not sound, fewer are a remark. */
export function scatteredHeat({ survey, settings }: Evidence): { missing: string[]; remarks: string[] } {
  const { switchFaultC, switchHotRows } = settings.verdict;
  const { rows, highestC } = switchHeatInAll(survey, settings.acute, switchFaultC);
  if (rows === 0 || switchHeat(survey, settings.acute, switchFaultC, switchHotRows) !== null)
    return { missing: [], remarks: [] };
  const said = `The switches read ${inDigits(switchFaultC, 0)} degC and more in ${counted(rows, "row")}, never for long, ${inDigits(highestC, 0)} degC at most`;
  return rows >= switchHotRows
    ? {
        missing: [`${said}: hold their temperature under load against a sound board before the pack is called sound.`],
        remarks: [],
      }
    : { missing: [], remarks: [`Watch the switches: ${lowerFirst(said)}.`] };
}

/** Switches warmer than usual, short of a fault, and switches that warm more at the end of the log than at its start. */
export function watchedSwitches(evidence: Evidence): string[] {
  const { survey, settings } = evidence;
  const { switchWatchC, switchFaultC, switchHotRows, switchHeatingGrowthPercent } = settings.verdict;
  const heat = switchHeat(survey, settings.acute, switchWatchC, switchHotRows);
  const isFault = switchHeat(survey, settings.acute, switchFaultC, switchHotRows) !== null;
  const warm = heat === null || isFault ? [] : [`Watch the switches: they reached ${inDigits(heat.highestC, 0)} degC.`];
  const { heating } = switchWarming(evidence);
  const [first, second] = heating?.halves ?? [0, 0];
  const growth = first > 0 ? (second / first - 1) * 100 : 0;
  const doubt = heating === null ? Number.POSITIVE_INFINITY : (200 * heating.error) / heating.kelvinPer1000A2;
  return growth - heatingSigmas * doubt >= switchHeatingGrowthPercent
    ? [
        ...warm,
        `Watch the switches: they warm ${inDigits(growth, 0)} % more at the same load in the second half of the log.`,
      ]
    : warm;
}
