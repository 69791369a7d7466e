import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { grossLeaks } from "@/lib/diagnosis/gross-leak";
import { compareGroups } from "@/lib/diagnosis/group-comparison";
import { normal95 } from "@/lib/diagnosis/group-dot";
import type { LeakThresholds } from "@/lib/diagnosis/leak-thresholds";
import { leaksUnderDraws } from "@/lib/diagnosis/leak-under-draw";
import { isLittleCharge, type KnownLoss, lostCharge, sayLimits } from "@/lib/diagnosis/lost-charge";
import { oncePerEvidence } from "@/lib/diagnosis/once-per-evidence";
import { mayBeBled } from "@/lib/diagnosis/watched-drift";
import { confidence, inDigits, inTime } from "@/lib/diagnosis/wording";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";
import { restWarming } from "@/lib/readings/measure/rest-warming";

/** What a drift must reach: mV per day, multiple of its error, % of charge per day; and the belief it earns. Engineering defaults. */
interface Demands {
  readonly limit: number;
  readonly sigmas: number;
  readonly leastPercent: number;
  readonly belief: number;
}

/** F4: a group that loses charge while parked. A balancer also lowers a group, but only down to the others, and where its commands were logged it is out of question. */
export const selfDischarge = oncePerEvidence((evidence): readonly Finding[] => {
  const { driftMillivoltPerDay, shortDriftMillivoltPerDay, driftPercentPerDay } = evidence.settings.verdict;
  const { sigmas, shortSigmas } = evidence.settings.leak;
  const long = { limit: driftMillivoltPerDay, sigmas, leastPercent: 0, belief: 0.75 };
  const short = { limit: shortDriftMillivoltPerDay, sigmas: shortSigmas, leastPercent: 0, belief: 0.6 };
  const { drift, shortDrift, restDrifts } = evidence;
  const found =
    drift !== null
      ? fromDrift(evidence, drift, long)
      : shortDrift !== null
        ? fromDrift(evidence, shortDrift, short)
        : [];
  // One leak reads as different millivolts at different charge: a rest on the flat part hides what another shows.
  for (const rest of restDrifts) {
    for (const finding of fromDrift(evidence, rest, { ...short, leastPercent: driftPercentPerDay }))
      if (!found.some((other) => other.groups[0] === finding.groups[0])) found.push(finding);
  }
  for (const finding of grossLeaks(evidence)) {
    const known = found.findIndex((other) => other.groups[0] === finding.groups[0]);
    if (known < 0) found.push(finding);
    else if (found[known]?.safetyClass !== "A1") found[known] = finding;
  }
  for (const finding of underDraws(evidence))
    if (!found.some((other) => other.groups[0] === finding.groups[0])) found.push(finding);
  return found;
});

/** A leak through a rest in which a current emptied or filled all groups: what no size of the group explains. */
function underDraws(evidence: Evidence): Finding[] {
  const { driftQuarantinePercentPerDay } = evidence.settings.verdict;
  return leaksUnderDraws(evidence).map(({ group, percentPerDay, error, draw }): Finding => {
    const [low, high] = normal95(percentPerDay, error) ?? [percentPerDay, Number.POSITIVE_INFINITY];
    return {
      fault: "self-discharge",
      groups: [group],
      confidence: confidence(0.6),
      safetyClass: high >= driftQuarantinePercentPerDay ? "A1" : "B",
      evidenceFor: [
        `While a current ${draw.percentPerDay < 0 ? "emptied" : "filled"} all groups by ${inDigits(Math.abs(draw.percentPerDay), 1)} % of charge per day, group ${group} lost ${inDigits(percentPerDay, 2)} % per day (95 % limits ${inDigits(low, 2)} to ${inDigits(high, 2)}) more than a group of its size does under it.`,
      ],
      evidenceAgainst: [
        "The current was not measured through the group itself: part of it may be a group smaller than the rest of the log shows.",
        "Electronics that draw from one group look the same in a log.",
      ],
      nextTest:
        "Rest of 7 to 14 days near half charge with nothing connected and the monitor unplugged, voltages once a day.",
    };
  });
}

function fromDrift(evidence: Evidence, drift: RestDrift, { limit, sigmas, leastPercent, belief }: Demands): Finding[] {
  const { verdict: limits, leak } = evidence.settings;
  const quarantine = limits.driftQuarantineMillivoltPerDay;
  const warming = warmingAtRest(evidence);
  // Any drift beside a place that grows warmer sets a pack apart (diagnostics.md 1.11): what is only watched elsewhere is enough, in
  // millivolts as in how far it stands out, for the warmth is a second witness.
  const growsWarm = typeof warming === "object" && warming.grewK >= leak.driftWarmingK;
  const asked = growsWarm ? Math.min(limit, limits.driftWatchMillivoltPerDay) : limit;
  const scatters = growsWarm ? leak.watchScatters : leak.scatters;
  return compareGroups(
    evidence,
    drift.millivoltPerDay,
    drift.errorMillivoltPerDay,
    limits.driftLeastScatterMillivoltPerDay,
  ).flatMap((one): Finding[] => {
    const loss = -one.excess;
    const fall = { group: one.group, millivoltPerDay: loss, error: one.standardError };
    const lost = lostCharge(evidence, drift, fall);
    const inPercent = lost?.known?.percentPerDay.estimate ?? null;
    // Where the curve is flat a few millivolts are much charge.
    const flatButClear =
      inPercent !== null &&
      drift.days >= leak.twoDaysFrom &&
      loss >= limits.driftFlatMillivoltPerDay &&
      inPercent >= evidence.settings.verdict.driftPercentPerDay;
    if (!(loss >= asked || flatButClear) || -one.z < scatters || loss < sigmas * one.standardError) return [];
    if (leastPercent > 0 && !((inPercent ?? 0) >= leastPercent)) return [];
    if (mayBeBled(evidence, drift, one.group)) return [];
    const faster = speedingUp(drift, one.group, limit, leak);
    if (faster === null && typeof warming !== "object" && isLittleCharge(evidence, drift, fall)) return [];
    const mayBeCritical = (lost?.mostPercentPerDay ?? 0) >= limits.driftQuarantinePercentPerDay;
    const critical = loss >= quarantine || mayBeCritical || faster !== null || typeof warming === "object";
    return [
      {
        fault: "self-discharge",
        groups: [one.group],
        confidence: confidence(belief + 0.02 * Math.min(10, Math.max(0, loss - limit))),
        safetyClass: critical ? "A1" : "B",
        evidenceFor: [
          `At rest group ${one.group} falls ${inDigits(loss, 1)} mV per day against the group in the middle, over ${inTime(drift.days * 86400)} once the load before had faded: ${inDigits(Math.abs(one.z), 0)} times as far off as sound groups differ.`,
          ...(lost === null
            ? []
            : [lost.known === null ? unknownSentence(lost.mostPercentPerDay) : leakSentence(one.group, lost.known)]),
          ...(mayBeCritical && loss < quarantine
            ? [
                `From ${inDigits(limits.driftQuarantinePercentPerDay, 1)} % per day on a pack is set apart${inPercent !== null && inPercent < limits.driftQuarantinePercentPerDay ? ", and the limits reach that" : ""}.`,
              ]
            : []),
          ...(faster === null
            ? []
            : [
                `It accelerates: ${inDigits(faster.first, 1)} mV per day in the first half of a rest, ${inDigits(faster.second, 1)} in the second.`,
              ]),
          ...(typeof warming === "object"
            ? [
                `${warming.probe} stays ${inDigits(warming.aboveK, 1)} K above what lies beside it while the pack rests, and ${inDigits(warming.grewK, 1)} K more at the end than at the beginning: a leak that warms.`,
              ]
            : []),
        ],
        evidenceAgainst: [
          ...(warming === "no witness"
            ? ["Whether it warms could not be seen: too few temperatures through the rest."]
            : []),
          ...warmthAgainst(drift, evidence.settings.verdict.driftWarmthK),
          "Electronics that draw from one group look the same in a log.",
          ...(drift.days < leak.twoDaysFrom
            ? ["The rest was shorter than two days: relaxation may still play a part."]
            : []),
        ],
        nextTest: "Rest of 7 to 14 days near half charge with the monitor unplugged, voltages once a day.",
      },
    ];
  });
}

/** mV per day lost in either half of a rest in which a group falls so much faster at the end; null where it does not. */
function speedingUp(
  drift: RestDrift,
  group: number,
  limit: number,
  { fasterTimes, leastPaceMillivoltPerDay }: LeakThresholds,
): { first: number; second: number } | null {
  const lost = drift.halves.map(({ firstHalf, secondHalf }) => ({
    first: -(firstHalf[group - 1] ?? 0),
    second: -(secondHalf[group - 1] ?? 0),
  }));
  return (
    lost.find(
      ({ first, second }) =>
        second > fasterTimes * Math.max(first, leastPaceMillivoltPerDay) && second > fasterTimes * limit,
    ) ?? null
  );
}

/** Volts at rest move with warmth, and groups are not warm alike. */
function warmthAgainst({ warmthMovedK }: RestDrift, steadyK: number): string[] {
  if (warmthMovedK === null) return ["No temperature was logged: a change of warmth may play a part."];
  if (warmthMovedK <= 2 * steadyK) return [];
  return [`The pack's warmth moved by ${inDigits(warmthMovedK, 0)} K meanwhile: part of the drift may be that.`];
}

function warmingAtRest({ survey, probeFaults }: Evidence): ReturnType<typeof restWarming> {
  // A probe that reads high after hours of rest may be off or beside what warms: with a leak it counts as warm.
  const witnesses = survey.log.temperatures.filter(
    ({ name }) => !probeFaults.some(({ probe, kind }) => probe === name && kind !== "offset"),
  );
  return restWarming(survey, witnesses, survey.log.ambientTemperatureC);
}

/** A curve of usual cells gives no number that could be relied on, only how bad it may be. */
function unknownSentence(mostPercentPerDay: number): string {
  const most = Number.isFinite(mostPercentPerDay)
    ? `it may be up to ${inDigits(mostPercentPerDay, 1)} % of charge per day`
    : "it may be much";
  return `How much charge that is cannot be told, for how the voltage of this model follows its charge is not known: as usual cells go, ${most}.`;
}

function leakSentence(group: number, { atPercent, percentPerDay, milliampere, ohm }: KnownLoss): string {
  return (
    `At ${inDigits(atPercent, 0)} % of charge, where group ${group} stands, that is ${inDigits(percentPerDay.estimate, 2)} % per day (95 % limits ${sayLimits(percentPerDay, 2)}), ` +
    `a leak of about ${inDigits(milliampere.estimate, 1)} mA (${sayLimits(milliampere, 1)}), as ${inDigits(ohm.estimate, 0)} ohm (${sayLimits(ohm, 0)}) across the group would draw.`
  );
}
