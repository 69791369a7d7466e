import type { Coverage } from "@/lib/diagnosis/coverage";
import type { Fault } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";

/** Classes that the questions of load and of charge leave open: both open together keep a pack from being called sound. */
const underLoad: Fault = "high-resistance-cell";
const overCharge: Fault = "weak-cell";
const ofTheCells: ReadonlySet<Fault> = new Set([underLoad, "high-resistance-joint", overCharge, "imbalance"]);

/**
 * What a kept suggestion was made of, for making it anew. It keeps what the file lacks as one list, for people; apart again are the
 * reasons why nothing is called sound and the classes that merely could not be seen. Of rules before 2026-11-u, which kept no word
 * of it, a heat that is not cleared up, a group to be watched, and the cells where neither load nor charge shows them, are reasons.
 */
export function keptCoverage(
  missing: readonly string[],
  unseen: readonly NotSeen[],
): Pick<Coverage, "misfit" | "missing" | "unseen"> {
  const cellsOpen = [underLoad, overCharge].every((fault) => unseen.some((one) => one.fault === fault));
  const keeps = ({ fault, because, keepsFromSound }: NotSeen) =>
    keepsFromSound ?? (fault === "acute-event" || because.startsWith("Watch ") || (cellsOpen && ofTheCells.has(fault)));
  const told = unseen.map((one) => ({ ...one, keepsFromSound: keeps(one) }));
  const onlyUnseen = new Set(told.flatMap(({ because, keepsFromSound }) => (keepsFromSound ? [] : [because])));
  for (const { because, keepsFromSound } of told) if (keepsFromSound) onlyUnseen.delete(because);
  // A file of another model is refused when it is sent, so none that is kept can misfit.
  return { misfit: null, missing: missing.filter((one) => !onlyUnseen.has(one)), unseen: told };
}
