import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import type { VerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { warmedFromAroundS } from "@/lib/diagnosis/warmed-from-around";
import { confidence, counted, inDigits, lastingInAll } from "@/lib/diagnosis/wording";
import type { AbuseEvents, AbuseKind } from "@/lib/readings/measure/abuse-events";

/** s from which use outside the limits is named as a cause; shorter is listed as a measurement. */
function worthNamingS(kind: AbuseKind, limits: VerdictThresholds): number {
  switch (kind) {
    case "over-discharge":
    case "deep over-discharge":
      return Number.POSITIVE_INFINITY;
    case "critical over-voltage":
    case "stored empty":
      return 0;
    case "over-voltage":
      return limits.overVoltageCauseS;
    case "cold charge":
      return limits.coldChargeCauseS;
    case "hot charge":
      return limits.hotChargeCauseS;
    case "hot":
      return limits.hotCauseS;
    case "over-current discharge":
      return limits.dischargeCurrentCauseS;
    case "over-current charge":
      return limits.chargeCurrentCauseS;
    case "charger voltage too high":
      return limits.chargerVoltageCauseS;
  }
}

/** Use that warms a pack: beside it, heat is no riddle. */
const warms: ReadonlySet<AbuseKind> = new Set([
  "hot charge",
  "over-current charge",
  "over-current discharge",
  "over-voltage",
  "critical over-voltage",
  "charger voltage too high",
]);

/** What a charger does, and the next one it is plugged into suffers as well. */
const byCharger: ReadonlySet<AbuseKind> = new Set([
  "over-voltage",
  "critical over-voltage",
  "charger voltage too high",
  "over-current charge",
]);
/** s above the charge limit from which cells may have taken harm unseen, and nothing cut the charge off. Engineering default. */
const overchargedS = 600;

/**
 * F13: use, charger or settings outside the limits. Facts first; events the monitor should have prevented point at it too.
 * Heat alone is told of no user: the cells may have made it themselves.
 */
export function outsideCause(evidence: Evidence): Finding[] {
  const events = evidence.abuse.filter((event) => isWorthNaming(event, evidence) && isCause(event, evidence));
  if (events.length === 0) return [];
  const untold = isHeatUntold(events, evidence);
  if (untold && events.every(({ kind }) => kind === "hot")) return events.map(heatOfUnknownCause);
  return [
    {
      fault: "outside-cause",
      groups: [],
      confidence: confidence(0.7 + 0.06 * events.length),
      safetyClass: events.some((event) => doesHarm(event, evidence)) ? "B" : "C",
      evidenceFor: events.map((event) => (untold && event.kind === "hot" ? heatUntold(event) : sentence(event))),
      evidenceAgainst: [
        "A monitor should have prevented this: its settings and firmware are as much in question as the user.",
      ],
      nextTest: events.some(({ kind }) => byCharger.has(kind))
        ? "Do not use this charger again before its voltage was measured with a meter, no pack connected. Look for swelling; let the pack rest a day, apart, logged: only where no group falls is it charged again, with a reference charger, watched. Read settings and firmware of the monitor."
        : events.some(({ kind }) => kind === "cold charge")
          ? afterFrost
          : "Repeat with a reference charger and the settings as delivered; read settings and firmware of the monitor.",
    },
  ];
}

/** Lithium that was plated shows as lost capacity and as a drift at rest, and is told by both before any charge. Common practice, no source. */
const afterFrost =
  "Let the pack rest 7 days near half charge, apart, logged every ten minutes: whether a group falls. Only where none does, a discharge at C/5 with its capacity, and only then a charge, warm, watched, with a reference charger. Read settings and firmware of the monitor.";

/** Belief that heat came from outside where nothing in the file speaks for it or against it. Engineering default. */
const heatBelief = 0.5;

function heatOfUnknownCause(event: AbuseEvents): Finding {
  return {
    fault: "outside-cause",
    groups: [],
    confidence: confidence(heatBelief),
    safetyClass: "B",
    evidenceFor: [heatUntold(event)],
    evidenceAgainst: [
      "Nothing in the file speaks for charger, load, settings or place: heat that the cells make themselves would look the same.",
    ],
    nextTest:
      "Ask where it stood and what was done with it; then leave it outdoors and apart for a day, logged: whether it warms by itself, and whether the probes agree.",
  };
}

/** Nothing that was done with the pack explains how hot it was: no charge or load beyond its limits, no warm place. */
function isHeatUntold(events: readonly AbuseEvents[], evidence: Evidence): boolean {
  const hot = events.find(({ kind }) => kind === "hot");
  if (hot === undefined || events.some(({ kind }) => warms.has(kind))) return false;
  return hot.worst >= evidence.settings.acute.hotC || warmedFromAroundS(evidence) < evidence.settings.verdict.hotCauseS;
}

function heatUntold(event: AbuseEvents): string {
  return `Heat, cause not known: ${facts(event)}`;
}

/** Use that may have harmed the cells unseen: overcharge, charge in the frost, heat above what cells are stored at. */
function doesHarm({ kind, worst, totalS }: AbuseEvents, { model, settings }: Evidence): boolean {
  if (kind === "over-voltage") return worst > model.cellMaxV + settings.abuse.criticalOverV || totalS >= overchargedS;
  if (kind === "hot charge") return worst > settings.abuse.hotC;
  return kind === "hot" || kind === "cold charge" || kind === "critical over-voltage";
}

function isWorthNaming({ kind, totalS, worst }: AbuseEvents, { settings }: Evidence): boolean {
  // So hot that no use explains it: even a probe that only says so is looked at.
  if (kind === "hot" && worst >= settings.acute.hotC) return true;
  return totalS >= worthNamingS(kind, settings.verdict);
}

/** Whether an event is large enough, and of the whole pack: one group beyond a limit is its own trouble, not the user's. */
function isCause(event: AbuseEvents, { model, survey, settings }: Evidence): boolean {
  switch (event.kind) {
    case "over-voltage":
    case "critical over-voltage":
      return event.groups.length > survey.groups / 2;
    case "hot charge":
      return event.worst >= model.chargeMaxTemperatureC + settings.verdict.hotByK;
    case "cold charge":
      return event.worst <= model.chargeMinTemperatureC - settings.verdict.coldByK;
    case "over-current discharge":
      return (
        event.worst >= settings.abuse.overCurrent * model.peakDischargeA ||
        event.totalS >= settings.verdict.longOverloadS
      );
    default:
      return true;
  }
}

function sentence(event: AbuseEvents): string {
  const where = event.groups.length > 0 ? ` (groups ${event.groups.join(", ")})` : "";
  return `${event.kind.charAt(0).toUpperCase()}${event.kind.slice(1)}${where}: ${facts(event)}`;
}

function facts({ count, totalS, worst, unit }: AbuseEvents): string {
  return `${counted(count, "time")}, ${lastingInAll(totalS)}, worst ${inDigits(worst, unit === "V" ? 3 : 1)} ${unit}.`;
}
