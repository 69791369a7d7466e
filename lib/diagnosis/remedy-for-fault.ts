import type { Fault, Finding, Remedy } from "@/lib/diagnosis/finding";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";

/** Usual remedy of each fault. Engineering default: a person decides. */
const usualRemedy: Readonly<Record<Fault, Remedy>> = {
  "weak-cell": "replace",
  "high-resistance-cell": "replace",
  "high-resistance-joint": "repair",
  "self-discharge": "replace",
  "sense-wire": "repair",
  "measurement-fault": "repair",
  "power-stage-fault": "repair",
  imbalance: "remote-fix",
  "over-discharge": "replace",
  "temperature-sensor": "repair",
  "water-ingress": "replace",
  "main-lead": "repair",
  "outside-cause": "remote-fix",
  "no-fault-found": "return-as-is",
  "mechanical-damage": "isolate",
  "acute-event": "isolate",
};

/** A remedy as an order, at the end of a sentence. */
export const remedyPhrase: Readonly<Record<Remedy, string>> = {
  "remote-fix": "put it right without sending the pack",
  repair: "repair",
  replace: "replace",
  isolate: "set it apart",
  "return-as-is": "give it back as it is",
  "cannot-tell": "nothing can be suggested until the bench has seen it",
};

/** Faults whose repair needs the inside of the potting. */
const insidePotting: ReadonlySet<Fault> = new Set(["high-resistance-joint", "sense-wire", "temperature-sensor"]);

/**
 * Faults of one cell group that an exchange of cells cures. A group that loses charge is not among them: what harmed it
 * may have harmed its neighbours, and it is never balanced and given back.
 */
const curedByNewCells: ReadonlySet<Fault> = new Set(["weak-cell", "high-resistance-cell"]);

export interface RemedyForFault {
  readonly remedy: Remedy;
  /** Why it is not the usual remedy, or what it rests on. */
  readonly because: readonly string[];
}

/** The remedy of a finding on this build: what the fault asks for, and what the build allows. Cover plays no part. */
export function remedyForFault(
  { fault, groups, safetyClass }: Finding,
  { potted, cellsRepairable }: SuggestionContext,
): RemedyForFault {
  const remedy = usualRemedy[fault];
  if (fault === "imbalance" && safetyClass === "B") {
    return {
      remedy: "cannot-tell",
      because: ["An offset this large is not balanced away before its cause is known: the bench looks for it first."],
    };
  }
  if (fault === "imbalance" && safetyClass === "U") {
    return {
      remedy: "cannot-tell",
      because: ["No rest shows that the group holds its charge, and balancing would hide a leak: it rests first."],
    };
  }
  if (fault === "no-fault-found" && safetyClass !== "C") {
    return {
      remedy: "cannot-tell",
      because: ["Nothing is at fault in what the readings show, but they do not show enough to call the cells sound."],
    };
  }
  if ((remedy === "remote-fix" || remedy === "return-as-is") && safetyClass !== "C") {
    return {
      remedy: "cannot-tell",
      because: ["It is not classed as sound, so it is not put right from afar: the bench has to see it first."],
    };
  }
  if (potted === true && remedy === "repair" && insidePotting.has(fault)) {
    return { remedy: "replace", because: ["The pack is potted: the place of this fault cannot be reached."] };
  }
  if (curedByNewCells.has(fault) && potted === false && cellsRepairable === true && groups.length === 1) {
    return {
      remedy: "repair",
      because: [
        `In this revision the cells of a group can be exchanged: cells matched to the others, then the tests of a new pack, group ${groups[0]} first.`,
      ],
    };
  }
  if (curedByNewCells.has(fault) && potted === true) {
    return { remedy, because: ["The pack is potted: no cell in it can be exchanged."] };
  }
  if (curedByNewCells.has(fault) && cellsRepairable === false) {
    return { remedy, because: ["In this revision no cell can be exchanged."] };
  }
  return { remedy, because: [] };
}
