import type { Fault } from "@/lib/diagnosis/finding";
import type { BenchModel } from "./bench-models";
import type { Chance } from "./chance";
import type { Mischief } from "./run-pack";
import type { UseScript } from "./use-script";

/** A fault as it was put into a pack. */
export interface PlantedFault {
  readonly fault: Fault;
  /** From 1; empty where it concerns the pack. */
  readonly groups: readonly number[];
  /** 0 marginal to 1 obvious. */
  readonly severity: number;
  /** Which shape of the fault. */
  readonly kind: string;
  /** Its physical size, in the unit its words name. */
  readonly size: number;
  readonly unit: string;
  readonly mischief: Mischief;
  /** Findings that are true besides, because this fault causes them. */
  readonly alsoTrue: readonly Fault[];
}

export interface PlantRequest {
  readonly bench: BenchModel;
  readonly chance: Chance;
  readonly severity: number;
  readonly group: number;
  readonly script: UseScript;
}

/** Straight between a marginal and an obvious size; geometric, because effects span decades. */
export function sized(severity: number, marginal: number, obvious: number): number {
  return marginal * (obvious / marginal) ** severity;
}

/** Opens and closes at random while riding; keeps its state, mostly, while parked. */
export function flicker(chance: Chance, openShare: number, holdS: number) {
  let open = false;
  return (seconds: number, riding: boolean): boolean => {
    const busy = riding ? 1 : 0.02;
    const leave = 1 - Math.exp((-seconds * busy) / holdS);
    const enter = 1 - Math.exp((-seconds * busy * openShare) / ((1 - openShare) * holdS));
    if (chance.happens(open ? leave : enter)) open = !open;
    return open;
  };
}
