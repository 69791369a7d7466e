import "server-only";
import { COUNTING_RULES_VERSION, SIGNAL_RULES_VERSION } from "@/lib/reliability/rule-version";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { toDateColumn } from "./calendar-columns";
import { asSystem } from "./database";
import { signalsOn } from "./signals";
import { breaksUnique } from "./unique-violation";

/**
 * Looks once at the day that is over and keeps the first signal of each group and fault, so that it does not vanish when the
 * numbers move. As the system: it is nobody's request. Returns how many were new. A day on which the program did not run is
 * not looked at later: the next look sees all that had happened by then.
 */
export async function keepSignalsAsSystem(now = new Date()): Promise<number> {
  const dataDate = plusDays(civilDateAt(now, "UTC"), -1);
  try {
    return await asSystem(async (tx) => {
      if ((await tx.signalRound.count({ where: { dataDate: toDateColumn(dataDate) } })) > 0) return 0;
      const { signals } = await signalsOn(tx, dataDate);
      const { watchedGroups, sharedOver, states } = signals;
      const versions = { countingRules: COUNTING_RULES_VERSION, signalRules: SIGNAL_RULES_VERSION };
      const round = await tx.signalRound.create({
        data: { dataDate: toDateColumn(dataDate), watchedGroups, sharedOver, ...versions, lookedAt: now },
        select: { id: true },
      });
      const { count } = await tx.signalAlarm.createMany({
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
      });
      return count;
    });
  } catch (error) {
    // Two rounds at once: the other one has looked.
    if (breaksUnique(error, "dataDate")) return 0;
    throw error;
  }
}
