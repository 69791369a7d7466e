import { faultWords } from "@/lib/diagnosis/fault-words";
import type { Fault, Finding } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";

/** Faults with which charging can hurt: protection of a group is gone, or charge goes where it should not. */
const charges: ReadonlySet<Fault> = new Set([
  "sense-wire",
  "measurement-fault",
  "over-discharge",
  "self-discharge",
  // Without a probe that tells the truth nothing ends a charge that is too hot or too cold.
  "temperature-sensor",
]);

/** With these it hurts where the class is not C: a joint or lead that heats, cells that were over-charged or charged in the frost. */
const chargesUnlessHarmless: ReadonlySet<Fault> = new Set(["high-resistance-joint", "main-lead", "outside-cause"]);

/** Confidence under which a finding is said to be unlikely. Engineering default. */
const unlikelyBelow = 0.2;

function chargingHurts({ fault, safetyClass }: Finding): boolean {
  return charges.has(fault) || (chargesUnlessHarmless.has(fault) && safetyClass !== "C");
}

/**
 * Said first wherever any finding asks for it, however unlikely: somebody may plug the pack in before the bench sees it. A danger that no
 * finding explains asks for more: current either way may be what harms.
 */
export function notToBeCharged(
  findings: readonly Finding[],
  unseen: readonly NotSeen[],
): { reasons: readonly string[]; plain: readonly string[] } {
  const hurting = findings.filter(chargingHurts);
  const named = [...new Set(hurting.map(({ fault }) => faultWords[fault].toLowerCase()))];
  const unlikely = hurting.every(({ confidence }) => confidence < unlikelyBelow);
  const isUntold = beforeCurrent(unseen).length > 0;
  if (named.length === 0 && !isUntold) return { reasons: [], plain: [] };
  return {
    reasons: [
      ...(isUntold
        ? ["Do not charge or ride it, and put no test current through it, before what is not explained is told."]
        : []),
      ...(named.length === 0
        ? []
        : [
            unlikely
              ? `Do not charge it before the bench has seen it: unlikely, but not ruled out, is ${named.join(", ")}.`
              : `Do not charge it before the bench has seen it: among the findings is ${named.join(", ")}.`,
          ]),
    ],
    plain: [isUntold ? "Do not charge it and do not ride it." : "Do not charge it."],
  };
}

/** Tests that look at a danger nothing explains: they come before any other. */
export function beforeCurrent(unseen: readonly NotSeen[]): string[] {
  return [...new Set(unseen.flatMap((one) => (one.beforeCurrent === true ? [one.next] : [])))];
}
