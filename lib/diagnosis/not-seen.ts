import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Fault } from "@/lib/diagnosis/finding";
import { inTime } from "@/lib/diagnosis/wording";
import type { Symptom } from "@/lib/returns/symptoms";

/** A class of fault this file could not have shown, had it been there. */
export interface NotSeen {
  readonly fault: Fault;
  /** Whole sentence: what cannot be seen and why. */
  readonly because: string;
  /** What would show it, as an order to whoever reads the pack next. */
  readonly next: string;
}

/** How a class is named in these sentences. Stored findings keep sentences only: `unseenBehind` tells one by its beginning. */
const unseenNames = {
  "self-discharge": "A slow leak",
  "main-lead": "A bad lead, plug or fuse",
  "power-stage-fault": "A fault of the pack's switches",
  "temperature-sensor": "A temperature sensor at fault",
  "measurement-fault": "A shifted reading of the monitor",
  "water-ingress": "Water",
} as const satisfies Partial<Record<Fault, string>>;

type Unseen = keyof typeof unseenNames;

/** Probes must have moved by so much, K, before one that stands still shows; hours of rest before one that is off does. Defaults. */
const movedK = 5;
const evenedOutS = 4 * 3600;

/**
 * Classes of fault the file's columns, rests and load cannot show. They do not make a pack unsound by themselves, but "no
 * fault found" is said of the other classes only, and a complaint that points to one of them outweighs it.
 */
export function notSeen(evidence: Evidence): NotSeen[] {
  return [...ofRest(evidence), ...ofPackVoltage(evidence), ...ofSwitches(evidence), ...ofHeat(evidence)];
}

function unseen(fault: Unseen, why: string, next: string): NotSeen {
  return { fault, because: `${unseenNames[fault]} cannot be seen here: ${why}.`, next };
}

const parkAndLog = "Park the pack for three days and log it every ten minutes.";

function ofRest({ drift, shortDrift, survey }: Evidence): NotSeen[] {
  if (drift !== null) return [];
  const why =
    shortDrift === null
      ? "no rest of two days was logged"
      : "the longest rest tells a strong leak only, not a slow one";
  const dry =
    survey.log.insulationKiloohm === null ? [unseen("water-ingress", `${why}, and no insulation`, parkAndLog)] : [];
  return [unseen("self-discharge", why, parkAndLog), ...dry];
}

function ofPackVoltage({ sum, sumCorrelation }: Evidence): NotSeen[] {
  if (sum.outcome !== "measured") {
    const why = "no pack voltage was logged to hold the groups against";
    const next = "Log the pack voltage as well.";
    return [unseen("main-lead", why, next), unseen("measurement-fault", why, next)];
  }
  if (sumCorrelation !== null && sumCorrelation >= synchronousAtAll) return [];
  return [
    unseen(
      "main-lead",
      "the groups were not sampled with the current, or too little load was",
      "Log a ride with hard load, all values in one row.",
    ),
  ];
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

/** What the customer's words point to, as far as a file can show or miss it. Engineering default. */
const pointsTo: Readonly<Record<Symptom, readonly Unseen[]>> = {
  "does-not-switch-on": ["power-stage-fault"],
  "does-not-charge": ["power-stage-fault", "temperature-sensor"],
  "charges-only-partly": ["temperature-sensor"],
  "cuts-out-under-load": ["main-lead", "power-stage-fault"],
  "short-range": [],
  "loses-charge-standing": ["self-discharge"],
  "shows-a-warning": [],
  "gets-hot-in-use": ["temperature-sensor"],
  "damaged-case-or-connector": ["main-lead"],
  "noise-or-smell": [],
  "something-else": [],
};

/** The sentences about classes this complaint points to and the file could not show. */
export function unseenBehind(complaint: Symptom, sentences: readonly string[]): string[] {
  return sentences.filter((sentence) =>
    pointsTo[complaint].some((fault) => sentence.startsWith(`${unseenNames[fault]} `)),
  );
}
