import { z } from "zod";
import { driftInPercent, driftWhereFlattest } from "@/lib/diagnosis/drift-percent";
import type { Evidence } from "@/lib/diagnosis/evidence";
import { type Fault, faults } from "@/lib/diagnosis/finding";
import { type Fall, lostCharge, sayLimits } from "@/lib/diagnosis/lost-charge";
import { sayFall, watchedFalls, whyLeakHides } from "@/lib/diagnosis/watched-drift";
import { inDigits, inTime } from "@/lib/diagnosis/wording";
import type { RestDrift } from "@/lib/readings/measure/rest-drift";
import { measuresNothing } from "@/lib/readings/measure/switch-heat";
import { rangeOf } from "@/lib/readings/measure/value-range";

/**
 * A class of fault this file could not have shown, had it been there. `because`: a whole sentence, what cannot be seen and
 * why; `next`: what would show it, as an order to whoever reads the pack next. Stored beside the suggestion as it is here.
 */
export const notSeenSchema = z.object({
  fault: z.enum(faults),
  because: z.string(),
  next: z.string(),
  /** Whether it alone keeps a pack from being called sound; not told by rules before 2026-11-u. */
  keepsFromSound: z.boolean().optional(),
  /** A danger that nothing explains: until `next` has told of it no current goes through the pack, neither charge nor ride nor a test under load. */
  beforeCurrent: z.boolean().optional(),
});
export type NotSeen = Readonly<z.infer<typeof notSeenSchema>>;

/** How a class is named in these sentences. */
const unseenNames = {
  "self-discharge": "A slow leak",
  "main-lead": "A bad lead, plug or fuse",
  "power-stage-fault": "A fault of the pack's switches",
  "temperature-sensor": "A temperature sensor at fault",
  "measurement-fault": "A shifted reading of the monitor",
  "sense-wire": "A loose wire at the end of the stack",
  "water-ingress": "Water",
  "outside-cause": "A wrong charger or charging outside the limits",
} as const satisfies Partial<Record<Fault, string>>;

/** Probes must have moved by so much, K, before one that stands still shows; hours of rest before one that is off does. Defaults. */
const movedK = 5;
const evenedOutS = 4 * 3600;

/** What was found: neither a leak nor a lead that is told is also said to be hidden. */
export interface AlreadyTold {
  /** Groups whose leak is found. */
  readonly leaking: ReadonlySet<number>;
  readonly lead: boolean;
}

/**
 * Classes of fault the file's columns, rests and load cannot show, besides what the cells' own questions left open. They do
 * not make a pack unsound by themselves, but "no fault found" is said of the other classes only, and a complaint that
 * points to one of them outweighs it.
 */
export function notSeen(evidence: Evidence, told: AlreadyTold): NotSeen[] {
  return [
    ...ofRest(evidence, told.leaking),
    ...ofPackVoltage(evidence, told),
    ...ofSwitches(evidence),
    ...ofSwitchHeat(evidence),
    ...ofHeat(evidence),
    ...ofCharging(evidence),
    ofNoReading,
  ];
}

/** A case, a smell or a blow leaves nothing in a file. */
const ofNoReading: NotSeen = {
  fault: "mechanical-damage",
  because: "Damage to the case, swelling, a leak or a smell cannot be seen in readings.",
  next: "Look at the pack: case, seams, connector, smell.",
};

function unseen(fault: keyof typeof unseenNames, why: string, next: string): NotSeen {
  return { fault, because: `${unseenNames[fault]} cannot be seen here: ${why}.`, next };
}

const parkAndLog = "Park the pack for three days and log it every ten minutes.";

function ofRest(evidence: Evidence, leaking: ReadonlySet<number>): NotSeen[] {
  const { drift, shortDrift, survey } = evidence;
  const why =
    drift === null
      ? shortDrift === null
        ? survey.standingDraws.length > 0
          ? "a current flowed while the pack stood"
          : "no rest of two days was logged"
        : "the longest rest tells a strong leak only, not a slow one"
      : (whyLeakHides(evidence, leaking) ?? flatRest(evidence, drift));
  if (why === null) return [];
  const dry =
    survey.log.insulationKiloohm === null ? [unseen("water-ingress", `${why}, and no insulation`, parkAndLog)] : [];
  const leak =
    leaking.size === 0 && watchedFalls(evidence, leaking).length === 0
      ? unseen("self-discharge", why, parkAndLog)
      : {
          fault: "self-discharge" as const,
          because: `A slow leak of another group cannot be seen here: ${why}.`,
          next: parkAndLog,
        };
  return [leak, ...dry];
}

/** Groups that fall faster than usual at rest, short of a fault: neither leaking nor sound before the rest is repeated. */
export function watched(evidence: Evidence, leaking: ReadonlySet<number>): NotSeen[] {
  return watchedFalls(evidence, leaking).map((fall) => ({
    fault: "self-discharge",
    because: `Watch ${sayFall(fall)} at rest: faster than is usual, slower than a fault.${mayBeMuch(evidence, fall)} Repeat the rest before it is called sound.`,
    next: `Rest of 7 days near half charge with balancing off, logged every ten minutes: whether group ${fall.group} goes on falling.`,
  }));
}

/** Few millivolts are much charge where the curve is flat: said where they may be as much as sets a pack apart. */
function mayBeMuch(evidence: Evidence, fall: Fall): string {
  const { drift, settings } = evidence;
  const lost = drift === null ? null : lostCharge(evidence, drift, fall);
  const most = lost?.mostPercentPerDay ?? 0;
  const known = lost?.known?.percentPerDay ?? null;
  const { driftPercentPerDay, driftQuarantinePercentPerDay } = settings.verdict;
  if (most < driftQuarantinePercentPerDay)
    return known !== null && known.estimate >= driftPercentPerDay
      ? ` At this charge that is ${sayLimits(known, 2)} % of charge per day.`
      : "";
  const upTo = Number.isFinite(most) ? `up to ${inDigits(most, 1)} % of charge per day` : "much charge";
  return ` At this charge that may be ${upTo}, and from ${inDigits(driftQuarantinePercentPerDay, 1)} on a pack is set apart: keep it apart until then.`;
}

/** Where the curve is flat, a leak that empties a group in months moves no millivolt. */
function flatRest(evidence: Evidence, drift: RestDrift): string | null {
  const { driftMillivoltPerDay, driftHiddenPercentPerDay } = evidence.settings.verdict;
  if (evidence.curve === null)
    return "no curve of charge over voltage is known, and where it is flat a leak moves no millivolt";
  const isOwn = evidence.curve.source === "pack model";
  const hidden = isOwn
    ? driftInPercent(evidence, drift, driftMillivoltPerDay)
    : driftWhereFlattest(evidence.curve, drift.referenceV, driftMillivoltPerDay, evidence.settings.leak);
  if (hidden === null || hidden < driftHiddenPercentPerDay) return null;
  if (!isOwn)
    return `the model's own curve is not known, and where curves are flat, ${inDigits(driftMillivoltPerDay, 0)} mV per day may be ${Number.isFinite(hidden) ? inDigits(hidden, 1) : "many"} % of charge per day`;
  return `the rest lies where the curve is flat, where ${inDigits(driftMillivoltPerDay, 0)} mV per day are ${inDigits(hidden, 1)} % of charge per day`;
}

function ofPackVoltage(evidence: Evidence, told: AlreadyTold): NotSeen[] {
  const { sum, sumCorrelation, settings } = evidence;
  if (sum.outcome !== "measured") {
    const why = "no pack voltage was logged to hold the groups against";
    const next =
      "Read the terminals with a meter and hold them against the sum of the groups; log the pack voltage as well.";
    return [unseen("main-lead", why, next), unseen("measurement-fault", why, next), unseen("sense-wire", why, next)];
  }
  const wire =
    3 * sum.noiseV > settings.tap.leastErrorV
      ? [
          unseen(
            "sense-wire",
            "the pack voltage is too coarse to hold the sum against",
            "Read both end groups with a meter.",
          ),
        ]
      : [];
  const lead = told.lead ? null : whyNoLead(evidence, sumCorrelation);
  return lead === null
    ? wire
    : [
        ...wire,
        unseen(
          "main-lead",
          lead,
          "Log a ride with hard load, all values in one row; feel connector and fuse for heat after it.",
        ),
      ];
}

/** Parts of the log that must know the resistance outside the groups before a change of it would show. Engineering default. */
const partsThatTell = 4;

function whyNoLead({ sum, resistance, settings }: Evidence, sumCorrelation: number | null): string | null {
  if (sumCorrelation === null || sumCorrelation < synchronousAtAll)
    return "the groups were not sampled with the current, or too little load was";
  const { leadChangeMilliohm, leadUnremarkableShare } = settings.verdict;
  const isTold = ({ outsideErrorOhm }: { readonly outsideErrorOhm: number }) =>
    2000 * outsideErrorOhm <= leadChangeMilliohm;
  const outside = 1000 * sum.outsideOhm;
  if (sum.pieces.filter(isTold).length < partsThatTell)
    return isTold(sum)
      ? `${inDigits(outside, 1)} mOhm lie outside the groups by the whole log, whose load lies close together: whether they change was not seen, nor what is usual for this model`
      : "the load changed too little, or the pack voltage is too coarse, to follow it";
  const inside = resistance.outcome === "refused" ? 0 : resistance.resistance.sumMilliohm;
  if (outside <= leadUnremarkableShare * inside) return null;
  return `${inDigits(outside, 1)} mOhm lie outside the groups, and what is usual for this model is not known: one that was bad throughout would not show`;
}

/** Correlation of steps under which even a change may be skewed sampling (an open vehicle log at 0.6 shows 2 to 44 mOhm). */
export const synchronousAtAll = 0.9;

function ofSwitches({ survey, sum }: Evidence): NotSeen[] {
  const { chargeSwitch, dischargeSwitch } = survey.log;
  const next = "Log the states of both switches, and one shutdown with a load connected.";
  if (dischargeSwitch === null && chargeSwitch === null)
    return [unseen("power-stage-fault", "the states of the switches were not logged", next)];
  const everOff = [chargeSwitch, dischargeSwitch].some((column) => column?.some((state) => state === 0) === true);
  if (everOff) return [];
  return [
    unseen(
      "power-stage-fault",
      sum.outcome === "measured"
        ? "both switches were on throughout, so one that stays on would not show"
        : "both switches were on throughout, and no pack voltage was logged",
      next,
    ),
  ];
}

/** A column that never changes though the pack was under load measures nothing: no finding, and nothing seen either. */
function ofSwitchHeat({ survey, model, settings, largestLoadA }: Evidence): NotSeen[] {
  const { switchFaultC, loadShare } = settings.verdict;
  const nothing = measuresNothing(survey.log.mosfetTemperatureC, settings.acute, settings.probe);
  if (nothing === null) return [];
  const { readsC: reads, throughout } = nothing;
  if (reads >= switchFaultC && reads <= settings.acute.switchNoTemperatureC) return [];
  const isTemperature = reads <= settings.acute.switchNoTemperatureC && reads > settings.probe.openBelowC;
  if (isTemperature && largestLoadA < loadShare * model.continuousDischargeA) return [];
  return [
    {
      fault: "power-stage-fault",
      because: `Heat of the switches cannot be seen here: their temperature reads ${inDigits(reads, 0)} degC in ${throughout ? "every row" : "all but a few odd rows"}, so it seems that nothing measures it.`,
      next: "Look whether the board carries a temperature sensor at its switches; log it through a ride.",
    },
  ];
}

function ofHeat({ survey }: Evidence): NotSeen[] {
  const { temperatures } = survey.log;
  if (temperatures.length === 0) {
    return [unseen("temperature-sensor", "no temperature was logged", "Log the temperatures as well.")];
  }
  const moved = temperatures.some(
    ({ valuesC }) => plausibleRangeK(valuesC, survey.gates.temperaturePlausibleC) >= movedK,
  );
  const rested = survey.restingS.some((rest) => rest >= evenedOutS);
  if (moved || rested) return [];
  return [
    unseen(
      "temperature-sensor",
      `the probes never moved by ${movedK} K, nor did the pack rest for ${inTime(evenedOutS)}`,
      "Log a ride that warms the pack.",
    ),
  ];
}

function plausibleRangeK(valuesC: Float64Array, [low, high]: readonly [number, number]): number {
  const all = rangeOf(valuesC);
  if (all.lowest >= low && all.highest <= high) return all.highest - all.lowest;
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (let row = 0; row < valuesC.length; row += 1) {
    const warm = valuesC[row] ?? Number.NaN;
    if (!(warm >= low && warm <= high)) continue;
    if (warm < lowest) lowest = warm;
    if (warm > highest) highest = warm;
  }
  return highest - lowest;
}

/** s of charging before charger and charging are judged. Engineering default. */
const chargedS = 600;

function ofCharging({ survey, directionKnown }: Evidence): NotSeen[] {
  if (!directionKnown) {
    const unknown = "it is not known which way the current counts";
    return [unseen("outside-cause", unknown, "Say which way the current of this file counts.")];
  }
  const { log, intervalS, restCurrentA } = survey;
  let seconds = 0;
  // By index: an iterator of pairs makes two objects a row.
  for (let row = 0; row < log.rows; row += 1)
    if ((log.currentA[row] ?? Number.NaN) > restCurrentA) seconds += intervalS[row] ?? 0;
  if (seconds >= chargedS) return [];
  const why = log.currentA.some(Number.isFinite) ? "no charging was logged" : "no current was logged";
  return [unseen("outside-cause", why, "Log a charge from nearly empty to full with the customer's charger.")];
}
