import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import type { AbuseEvents, AbuseKind } from "@/lib/readings/measure/abuse-events";

/** s. Shorter use outside the limits is listed as a measurement, not called a cause. Engineering default. */
const worthNamingS: Readonly<Record<AbuseKind, number>> = {
  "over-discharge": Number.POSITIVE_INFINITY,
  "deep over-discharge": Number.POSITIVE_INFINITY,
  "over-voltage": 60,
  "critical over-voltage": 0,
  "cold charge": 60,
  "hot charge": 1800,
  hot: 900,
  "over-current discharge": 60,
  "over-current charge": 120,
  "charger voltage too high": 60,
  "stored empty": 0,
};
/** K below the window that a cause must reach at its worst: a probe is good to one or two. Engineering default. */
const coldByK = 1;
/** K above the window, and share of the peak current, that a cause must reach at its worst. Engineering defaults. */
const hotByK = 3;
const overPeak = 1.1;

/** F13: use, charger or settings outside the limits. Facts first; events the monitor should have prevented point at it too. */
export function outsideCause(evidence: Evidence): Finding[] {
  const events = evidence.abuse.filter((event) => isWorthNaming(event, evidence) && isCause(event, evidence));
  if (events.length === 0) return [];
  return [
    {
      fault: "outside-cause",
      groups: [],
      confidence: confidence(0.7 + 0.06 * events.length),
      safetyClass: events.some((event) => doesHarm(event, evidence)) ? "B" : "C",
      evidenceFor: events.map(sentence),
      evidenceAgainst: [
        "A monitor should have prevented this: its settings and firmware are as much in question as the user.",
      ],
      nextTest:
        "Repeat with a reference charger and the settings as delivered; read settings and firmware of the monitor.",
    },
  ];
}

/** Use that may have harmed the cells unseen: overcharge, charge in the frost, heat above what cells are stored at. */
function doesHarm({ kind, worst }: AbuseEvents, { model, settings }: Evidence): boolean {
  if (kind === "over-voltage") return worst > model.cellMaxV + settings.abuse.criticalOverV;
  if (kind === "hot charge") return worst > settings.abuse.hotC;
  return kind === "hot" || kind === "cold charge" || kind === "critical over-voltage";
}

function isWorthNaming({ kind, totalS, worst }: AbuseEvents, { settings }: Evidence): boolean {
  // So hot that no use explains it: even a probe that only says so is looked at.
  if (kind === "hot" && worst >= settings.acute.hotC) return true;
  return totalS >= worthNamingS[kind];
}

/** Whether an event is large enough, and of the whole pack: one group beyond a limit is its own trouble, not the user's. */
function isCause(event: AbuseEvents, { model, survey }: Evidence): boolean {
  switch (event.kind) {
    case "over-voltage":
    case "critical over-voltage":
      return event.groups.length > survey.groups / 2;
    case "hot charge":
      return event.worst >= model.chargeMaxTemperatureC + hotByK;
    case "cold charge":
      return event.worst <= model.chargeMinTemperatureC - coldByK;
    case "over-current discharge":
      return event.worst >= overPeak * model.peakDischargeA || event.totalS >= longOverloadS;
    default:
      return true;
  }
}

/** s over the continuous current, pulses of the allowed length left out, that is a cause by itself. Engineering default. */
const longOverloadS = 600;

function sentence(event: AbuseEvents): string {
  const where = event.groups.length > 0 ? ` (groups ${event.groups.join(", ")})` : "";
  return `${event.kind.charAt(0).toUpperCase()}${event.kind.slice(1)}${where}: ${counted(event.count, "time")}, ${inTime(event.totalS)} in all, worst ${inDigits(event.worst, event.unit === "V" ? 3 : 1)} ${event.unit}.`;
}
