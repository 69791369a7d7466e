import type { Fault } from "@/lib/diagnosis/finding";
import type { Verdict } from "./judge-trial";
import { plantedClasses } from "./make-trial";
import { sayShare } from "./proportion";

/** What issue 3, clause 8 asks of every run. */
const asked = { "acute-event": 0.99, "sense-wire": 0.99 } as const satisfies Partial<Record<Fault, number>>;
const askedOfOthers = 0.95;
const alarmsAtMost = 0.01;

export interface Target {
  readonly name: string;
  /** Whether the share of this run reaches it; null where the run holds none to judge, which misses nothing and proves nothing. */
  readonly reached: boolean | null;
  readonly said: string;
}

/** Held against the shares of this run as they are: limits of few packs are wide, and are printed beside. */
export function targetsOf(verdicts: readonly Verdict[]): Target[] {
  const faults = verdicts.flatMap(({ faults: judged }) => judged).filter(({ visibility }) => visibility === "visible");
  const recalls = plantedClasses.map((name): Target => {
    const visible = faults.filter(({ planted }) => planted.fault === name);
    const named = visible.filter((one) => one.named).length;
    const least = Object.entries(asked).find(([fault]) => fault === name)?.[1] ?? askedOfOthers;
    return {
      name: `${name} named, at least ${least}`,
      reached: visible.length === 0 ? null : named >= least * visible.length,
      said: sayShare(named, visible.length),
    };
  });
  const healthy = verdicts.filter(({ healthyUse }) => healthyUse !== null);
  const cannotTell = healthy.filter(({ remedy }) => remedy === "cannot-tell").length;
  const alarms = healthy.filter(({ falseFindings }) => falseFindings.length > 0).length;
  const acute = verdicts.filter(({ faults: judged }) =>
    judged.some(({ planted, visibility }) => planted.fault === "acute-event" && visibility === "visible"),
  );
  const calledSound = acute.filter(({ findings }) => findings.some(({ fault }) => fault === "no-fault-found")).length;
  return [
    ...recalls,
    {
      name: `alarms on healthy packs, at most ${alarmsAtMost}`,
      reached: healthy.length === 0 ? null : alarms <= alarmsAtMost * healthy.length,
      said: `${sayShare(alarms, healthy.length)}; "cannot tell" of them ${sayShare(cannotTell, healthy.length)}`,
    },
    {
      name: 'acute files called "no fault found", never',
      reached: acute.length === 0 ? null : calledSound === 0,
      said: `${calledSound}`,
    },
  ];
}

/** Prints the targets with what this run shows of each; true where none is missed. */
export function printTargets(verdicts: readonly Verdict[]): boolean {
  const targets = targetsOf(verdicts);
  console.log("\nTARGETS (shares of this run; 95 % limits and count):");
  for (const { name, reached, said } of targets)
    console.log(`  ${reached === null ? "none   " : reached ? "reached" : "MISSED "} ${name}: ${said}`);
  return targets.every(({ reached }) => reached !== false);
}
