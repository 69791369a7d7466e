import "server-only";
import { comparedBy } from "@/lib/reliability/compare-by";
import type { EarlySignals } from "@/lib/reliability/early-signals";
import { COUNTING_RULES_VERSION, SIGNAL_RULES_VERSION } from "@/lib/reliability/rule-version";
import { groupsToTell } from "@/lib/reliability/signals-to-tell";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { toDateColumn } from "../calendar-columns";
import { asSystem, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { breaksUnique } from "../unique-violation";
import { readForSignals, signalsOf } from "./signals";

/**
 * Looks once at the day that is over and keeps the first signal of each group and fault, so that it does not vanish when the
 * numbers move. Managers and the safety officer are told of each group that never had one for that fault, in the transaction that keeps them; what is
 * kept is computed before it. As the system: it is nobody's request. Returns how many were new. A day on which the program did not run is
 * not looked at later: the next look sees all that had happened by then.
 */
export async function keepSignalsAsSystem(now = new Date()): Promise<number> {
  const dataDate = plusDays(civilDateAt(now, "UTC"), -1);
  const read = await asSystem(async (tx) => {
    const looked = await tx.signalRound.count({ where: { dataDate: toDateColumn(dataDate) } });
    return looked > 0 ? null : readForSignals(tx, dataDate);
  });
  if (read === null) return 0;
  const { signals } = signalsOf(read);
  try {
    return await asSystem((tx) => keepRound(tx, signals, dataDate, now));
  } catch (error) {
    // Two rounds at once: the other one has looked.
    if (breaksUnique(error, "SignalRound_dataDate_key")) return 0;
    throw error;
  }
}

async function keepRound(tx: Transaction, signals: EarlySignals, dataDate: CalendarDate, now: Date): Promise<number> {
  const { watchedGroups, sharedOver, states } = signals;
  const versions = { countingRules: COUNTING_RULES_VERSION, signalRules: SIGNAL_RULES_VERSION };
  const round = await tx.signalRound.create({
    data: { dataDate: toDateColumn(dataDate), watchedGroups, sharedOver, ...versions, lookedAt: now },
    select: { id: true },
  });
  const ofFault = { by: true, group: true, fault: true } as const;
  const keptBefore = await tx.signalAlarm.findMany({ select: ofFault, distinct: ["by", "group", "fault"] });
  const alarms = await tx.signalAlarm.createManyAndReturn({
    data: states
      .filter(({ alarm }) => alarm)
      .map((state) => ({
        roundId: round.id,
        by: state.by,
        group: state.group,
        stratum: state.stratum,
        fault: state.fault ?? "",
        observed: state.observed,
        expected: state.expected,
        baseline: state.baseline,
        evidence: state.evidence,
        threshold: state.threshold,
        countedFromDays: state.countedFromDays,
        countedUpToDays: state.countedUpToDays,
        signalRules: SIGNAL_RULES_VERSION,
      })),
    skipDuplicates: true,
    select: ofFault,
  });
  const comparable = (some: typeof alarms) => some.map((one) => ({ ...one, by: comparedBy(one.by) }));
  for (const reference of groupsToTell(comparable(alarms), comparable(keptBefore)))
    await tellOf(tx, reference, dataDate);
  return alarms.length;
}

/** Once for a group and day, whatever number of its faults signal. */
async function tellOf(tx: Transaction, reference: string, dataDate: CalendarDate): Promise<void> {
  for (const role of ["manager", "safety-officer"] as const)
    await queueNotice(tx, { kind: "early-signal", reference, occasion: dataDate, to: { role }, until: dataDate });
}
