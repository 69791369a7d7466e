import type { Fault } from "@/lib/diagnosis/finding";
import { type BenchModel, someModel } from "./bench-models";
import { type Chance, chanceFrom } from "./chance";
import { type HealthyUse, healthyScript, healthyUses } from "./healthy-use";
import { type Monitor, someMonitor } from "./monitor";
import { soundPack } from "./pack-physics";
import {
  plantHighResistanceCell,
  plantImbalance,
  plantJoint,
  plantOverDischarge,
  plantSelfDischarge,
  plantWeakCell,
} from "./plant-cell-fault";
import { plantOutsideCause } from "./plant-outside-cause";
import { plantAcute, plantMainLead, plantPowerStage, plantWater } from "./plant-pack-fault";
import { plantMeasurementFault, plantProbeFault, plantSenseWire } from "./plant-reading-fault";
import type { PlantedFault, PlantRequest } from "./planted-fault";
import { newRun, playScript, type TruthRow } from "./run-pack";
import { type Act, ordinaryUse, parkedUse, rest, ride, type UseScript } from "./use-script";
import { type FileStyle, logText, someFileStyle } from "./write-log";

/** One simulated pack, its file and what was put into it. */
export interface Trial {
  readonly seed: number;
  readonly place: number;
  readonly bench: BenchModel;
  readonly monitor: Monitor;
  readonly style: FileStyle;
  readonly planted: readonly PlantedFault[];
  readonly healthyUse: HealthyUse | null;
  readonly truth: readonly TruthRow[];
  /** Rows of the file in which a tap is off by 50 mV and more. */
  readonly tapRows: number;
  readonly highestGroupV: number;
  readonly text: string;
}

/** Classes a log can show; mechanical damage is seen by a person, and "no fault" is the healthy packs. */
export const plantedClasses = [
  "weak-cell",
  "high-resistance-cell",
  "high-resistance-joint",
  "self-discharge",
  "sense-wire",
  "measurement-fault",
  "power-stage-fault",
  "imbalance",
  "over-discharge",
  "temperature-sensor",
  "water-ingress",
  "main-lead",
  "outside-cause",
  "acute-event",
] as const satisfies readonly Fault[];
export type PlantedClass = (typeof plantedClasses)[number];

const plants: Readonly<Record<Exclude<PlantedClass, "outside-cause">, (request: PlantRequest) => PlantedFault>> = {
  "weak-cell": plantWeakCell,
  "high-resistance-cell": plantHighResistanceCell,
  "high-resistance-joint": plantJoint,
  "self-discharge": plantSelfDischarge,
  "sense-wire": plantSenseWire,
  "measurement-fault": plantMeasurementFault,
  "power-stage-fault": plantPowerStage,
  imbalance: plantImbalance,
  "over-discharge": plantOverDischarge,
  "temperature-sensor": plantProbeFault,
  "water-ingress": plantWater,
  "main-lead": plantMainLead,
  "acute-event": plantAcute,
};

/** Of 20 packs 6 are healthy, 12 carry one fault and 2 carry two that a shop might see together. */
const rhythm = 20;
const healthyOfRhythm = 6;
const firstOfTwo = 18;

/** Classes planted in the pack at this place of every seed: none in a sound one. */
export function classesAt(place: number): readonly PlantedClass[] {
  const turn = place % rhythm;
  const round = Math.floor(place / rhythm);
  if (turn < healthyOfRhythm) return [];
  if (turn >= firstOfTwo) return together[(round * (rhythm - firstOfTwo) + turn - firstOfTwo) % together.length] ?? [];
  const single =
    plantedClasses[(round * (firstOfTwo - healthyOfRhythm) + turn - healthyOfRhythm) % plantedClasses.length];
  return single === undefined ? [] : [single];
}

const together: readonly (readonly [PlantedClass, PlantedClass])[] = [
  ["weak-cell", "temperature-sensor"],
  ["high-resistance-joint", "sense-wire"],
  ["imbalance", "main-lead"],
  ["high-resistance-cell", "imbalance"],
  ["self-discharge", "temperature-sensor"],
  ["weak-cell", "sense-wire"],
  ["measurement-fault", "high-resistance-cell"],
  ["outside-cause", "weak-cell"],
];

/** The pack number `place` of the benchmark with this seed: always the same. */
export function makeTrial(seed: number, place: number): Trial {
  const chance = chanceFrom(seed * 1_000_003 + place);
  const bench = someModel(chance);
  const classes = classesAt(place);
  if (classes.length === 0) {
    const turn = Math.floor(place / rhythm) * healthyOfRhythm + (place % rhythm);
    const healthyUse = healthyUses[turn % healthyUses.length] ?? "ordinary";
    const { script, monitor, grown } = healthyScript(healthyUse, bench, chance);
    return play(seed, place, bench, script, monitor, [], healthyUse, chance, grown);
  }
  const intervalS = chance.pick([1, 1, 2, 5, 10, 30, 60]);
  const monitor = someMonitor(bench.model, chance, intervalS);
  let script = scriptFor(classes, bench, chance);
  const planted: PlantedFault[] = [];
  for (const [at, fault] of classes.entries()) {
    const group = someGroup(bench.model.groups, planted, chance);
    const severity = at === 0 ? chance.uniform() : chance.between(0.4, 1);
    const request: PlantRequest = { bench, chance, severity, group, script };
    if (fault === "outside-cause") {
      const outside = plantOutsideCause(request);
      script = outside.script;
      planted.push(outside.planted);
    } else planted.push(plants[fault](request));
  }
  return play(seed, place, bench, script, monitor, planted, null, chance, 1);
}

/** Two faults of one pack lie at least four groups apart, so that each has neighbours of its own. */
export function someGroup(groups: number, planted: readonly PlantedFault[], chance: Chance): number {
  const taken = planted.flatMap((one) => one.groups);
  const free = Array.from({ length: groups }, (_, k) => k + 1).filter((one) =>
    taken.every((other) => Math.abs(other - one) >= 4),
  );
  return free[Math.floor(chance.uniform() * free.length)] ?? 1;
}

function scriptFor(classes: readonly PlantedClass[], bench: BenchModel, chance: Chance): UseScript {
  const { model } = bench;
  if (classes.includes("self-discharge") || classes.includes("water-ingress"))
    return parkedUse(model, chance, chance.pick([0.4, 1, 2.3, 3, 5, 9]));
  if (classes.includes("over-discharge")) {
    const acts: Act[] = [ride(chance, 6, 3), rest(chance.between(3, 40))];
    return { startPercent: chance.between(12, 25), ambientC: chance.between(5, 28), acts };
  }
  const ordinary = ordinaryUse(model, chance);
  if (classes.includes("acute-event")) return { ...ordinary, acts: [...ordinary.acts, rest(chance.between(0.7, 4))] };
  if (classes.includes("power-stage-fault"))
    return { ...ordinary, acts: [...ordinary.acts, rest(chance.between(0.3, 2))] };
  // Some owners send a log that can hardly show anything.
  if (chance.happens(0.08)) return { ...ordinary, acts: [rest(0.3), ride(chance, chance.between(1, 6)), rest(0.1)] };
  return ordinary;
}

export function play(
  seed: number,
  place: number,
  bench: BenchModel,
  script: UseScript,
  monitor: Monitor,
  planted: readonly PlantedFault[],
  healthyUse: HealthyUse | null,
  chance: Chance,
  grown: number,
  restyled = (style: FileStyle): FileStyle => style,
): Trial {
  const pack = soundPack(bench, script.startPercent, script.ambientC, chance);
  for (const column of [pack.ohmicOhm, pack.fastOhm, pack.slowOhm])
    for (const [k, ohm] of column.entries()) column[k] = ohm * grown;
  const run = newRun(bench, pack, monitor, chance);
  playScript(
    run,
    script,
    planted.map((one) => one.mischief),
  );
  const insulation = planted.some((one) => one.kind === "with insulation logged") || chance.happens(0.05);
  const style = restyled(someFileStyle(chance, insulation));
  const startUnixS = 1_700_000_000 + chance.integer(0, 50_000_000);
  const text = logText(run.rows, style, startUnixS, chance);
  const tapRows = run.truth.filter((row) => row.tapErrorV >= 0.05).length;
  const highestGroupV = run.truth.reduce((highest, row) => Math.max(highest, row.highestV), 0);
  return { seed, place, bench, monitor, style, planted, healthyUse, truth: run.truth, tapRows, highestGroupV, text };
}
