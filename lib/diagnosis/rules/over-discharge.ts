import type { Evidence } from "@/lib/diagnosis/evidence";
import type { Finding } from "@/lib/diagnosis/finding";
import { confidence, inDigits, lastingInAll, namedGroups, namedGroupsFirst } from "@/lib/diagnosis/wording";
import { dischargeLimits } from "@/lib/readings/measure/abuse-gates";

/**
 * F9: groups that were drained below what a cell survives unharmed. A group that reads near zero volts with nothing to say
 * that its volts are still there counts as one: dead or shorted until a meter has told it from a lost wire.
 */
export function overDischarge(evidence: Evidence): Finding[] {
  const deep = evidence.abuse.find((event) => event.kind === "deep over-discharge");
  const event = deep ?? evidence.abuse.find((one) => one.kind === "over-discharge");
  const dead = evidence.nearZero.filter(({ packVoltage }) => packVoltage !== "denies");
  if (event === undefined && dead.length === 0) return [];
  const confirmed = dead.filter(({ packVoltage }) => packVoltage === "agrees").map(({ group }) => group);
  const untold = dead.filter(({ packVoltage }) => packVoltage === "silent").map(({ group }) => group);
  const groups = [...new Set([...(event?.groups ?? []), ...confirmed, ...untold])].toSorted((a, b) => a - b);
  const worst = dead.length > 0 ? 0 : (event?.worst ?? 0);
  const atRest = (event?.restRows ?? 0) > 0 || dead.length > 0;
  const onlyUntold = event === undefined && confirmed.length === 0;
  const limits = dischargeLimits(evidence.model, evidence.settings.abuse);
  const isDeep = event !== undefined && event === deep;
  const belief = onlyUntold ? 0.65 : isDeep || worst === 0 ? 0.92 : atRest ? 0.82 : 0.62;
  return [
    {
      fault: "over-discharge",
      groups,
      confidence: confidence(belief),
      safetyClass: worst < limits.lethalV ? "A1" : "B",
      evidenceFor: [
        ...(untold.length > 0
          ? [
              `${namedGroupsFirst(untold)} ${verb(untold)} near zero volts: dead or shorted, or a sense wire is lost. Set apart until a meter has told which.`,
            ]
          : []),
        ...(confirmed.length > 0
          ? [`${namedGroupsFirst(confirmed)} ${verb(confirmed)} near zero volts, and the pack voltage confirms it.`]
          : []),
        ...(event === undefined
          ? []
          : [
              `${namedGroupsFirst(event.groups)} fell to ${inDigits(event.worst, 3)} V, ${lastingInAll(event.totalS)}, ${isDeep ? (atRest ? "at rest" : "under a small load") : atRest ? "at rest as well" : "under load only"}.`,
            ]),
      ],
      evidenceAgainst: [
        ...(untold.length > 0
          ? ["Nothing logged tells a dead group from a lost wire: no pack voltage, or one that cannot say."]
          : []),
        ...(atRest || isDeep ? [] : ["It was seen only under load: resistance explains part of the fall."]),
      ],
      nextTest:
        untold.length > 0
          ? `Do not charge. Read ${namedGroups(untold)} with a meter at the cells and at the monitor's connector; look for swelling.`
          : `Look for swelling. Do not charge; between ${inDigits(limits.deepV, 1)} and ${inDigits(limits.overV, 1)} V only at C/20, supervised, at the bench.`,
    },
  ];
}

function verb(groups: readonly number[]): string {
  return groups.length === 1 ? "reads" : "read";
}
