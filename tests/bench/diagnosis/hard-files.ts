import { type BenchModel, someModel } from "./bench-models";
import { type Chance, chanceFrom } from "./chance";
import { judgeTrial, type Verdict } from "./judge-trial";
import { play, someGroup, type Trial } from "./make-trial";
import { type Monitor, someMonitor } from "./monitor";
import { plantSelfDischarge } from "./plant-cell-fault";
import { type PlantedFault, sized } from "./planted-fault";
import { sayShare } from "./proportion";
import type { Mischief } from "./run-pack";
import { charge, minutesFor, ordinaryUse, parkedUse, rest, ride, type UseScript } from "./use-script";
import { visibility } from "./visible-evidence";
import type { FileStyle } from "./write-log";

/** Files in which a danger or a fault lies where one column alone shows it, or where a column is silent. Beside the packs of `make-trial.ts`, whose numbering they leave alone. */
export const hardKinds = [
  "insulation alone",
  "switches too hot",
  "current missing in part",
  "drawn from while it stands",
  "leak read coarsely",
  "alarm of one group",
  "leak under a draw",
  "switches hot by turns",
  "switch probe leaps at the end",
  "no probe at the switches",
  "current in few rows",
] as const;
export type HardKind = (typeof hardKinds)[number];

/** What the verdict must not do: call it sound; call it sound without naming the class as unseen; call it sound, or an emergency; accuse a sound pack. */
type MustNot = "call it sound" | "call it sound unsaid" | "call it sound or an emergency" | "accuse it";

const mustNot: Readonly<Record<HardKind, MustNot>> = {
  "insulation alone": "call it sound",
  "switches too hot": "call it sound",
  "current missing in part": "accuse it",
  "drawn from while it stands": "accuse it",
  "leak read coarsely": "call it sound unsaid",
  "alarm of one group": "call it sound",
  "leak under a draw": "call it sound",
  "switches hot by turns": "call it sound",
  "switch probe leaps at the end": "call it sound or an emergency",
  "no probe at the switches": "accuse it",
  "current in few rows": "accuse it",
};

/** Share of the files of a kind that may fail: a sound pack accused as seldom as issue 3 allows a false alarm, a danger passed over never. */
const mayFail: Readonly<Record<MustNot, number>> = {
  "call it sound": 0,
  "call it sound unsaid": 0,
  "call it sound or an emergency": 0,
  "accuse it": 0.01,
};

export interface HardTrial {
  readonly kind: HardKind;
  readonly trial: Trial;
  /** Whether the file holds what must be heard: a hot row in the column of the switches, a leak of the trade's 3 mV a day. */
  readonly isIn: boolean;
}

/** The hard file number `place` of a seed: always the same. Kinds take turns. */
export function makeHardTrial(seed: number, place: number): HardTrial {
  const kind = hardKinds[place % hardKinds.length] ?? "insulation alone";
  // A stream of its own, apart from that of the packs with the same place.
  const chance = chanceFrom(seed * 1_000_003 + 500_009 + place);
  const bench = someModel(chance);
  const intervalS = chance.pick([1, 2, 5, 10, 30]);
  const monitor = someMonitor(bench.model, chance, intervalS);
  const made = makers[kind]({ bench, chance, monitor, seed, place });
  return { kind, ...made };
}

interface Request {
  readonly bench: BenchModel;
  readonly chance: Chance;
  readonly monitor: Monitor;
  readonly seed: number;
  readonly place: number;
}

type Made = Omit<HardTrial, "kind">;

const makers: Readonly<Record<HardKind, (request: Request) => Made>> = {
  "insulation alone": insulationAlone,
  "switches too hot": switchesTooHot,
  "current missing in part": currentMissing,
  "drawn from while it stands": drawnFrom,
  "leak read coarsely": leakReadCoarsely,
  "alarm of one group": alarmOfOneGroup,
  "leak under a draw": leakUnderDraw,
  "switches hot by turns": switchesHotByTurns,
  "switch probe leaps at the end": switchProbeLeaps,
  "no probe at the switches": noSwitchProbe,
  "current in few rows": currentInFewRows,
};

function run(
  { bench, chance, monitor, seed, place }: Request,
  script: UseScript,
  planted: readonly PlantedFault[],
  restyled?: (style: FileStyle) => FileStyle,
): Trial {
  return play(seed, place, bench, script, monitor, planted, null, chance, 1, restyled);
}

function plant(change: Pick<PlantedFault, "fault" | "kind" | "size" | "unit"> & { readonly mischief: Mischief }) {
  return { groups: [], severity: 1, alsoTrue: [], ...change } as const satisfies PlantedFault;
}

/** The case is live, from the first row on or from some row on; nothing else ails the pack. */
function insulationAlone(request: Request): Made {
  const { chance, bench } = request;
  const kiloohm = sized(chance.uniform(), 40, 0.5);
  const from = chance.pick([0, 0, chance.between(0.2, 0.7)]);
  const planted = plant({
    fault: "water-ingress",
    kind: "with insulation logged",
    size: kiloohm,
    unit: "kiloohm to the case",
    mischief: {
      step(run) {
        run.insulationKiloohm = run.progress >= from ? kiloohm : 3000;
      },
    },
  });
  return { trial: run(request, ordinaryUse(bench.model, chance), [planted]), isIn: true };
}

/** degC of the switches that nobody in the trade calls usual. */
const unusualC = 115;

/** A joint of the switches conducts badly: they warm many times as much as usual, through every ride or only in the last seconds of a log. */
function switchesTooHot(request: Request): Made {
  const { chance, bench } = request;
  const times = sized(chance.uniform(), 2.5, 9);
  const atTheEnd = chance.happens(0.5);
  const lastS = chance.between(6, 12) * request.monitor.parkedIntervalS;
  const script = ordinaryUse(bench.model, chance);
  const endsS = 3600 * lastHours(script);
  let restedS = 0;
  const planted = plant({
    fault: "power-stage-fault",
    kind: "too hot",
    size: times,
    unit: "times the usual warming",
    mischief: {
      start(run) {
        if (!atTheEnd) run.pack.stageKPerA2 *= times;
      },
      step(run, seconds) {
        restedS = run.progress >= 1 - 1 / script.acts.length ? restedS + seconds : 0;
        const left = endsS - restedS;
        if (atTheEnd && left < lastS) run.stageHeatK = 40 + 130 * (1 - Math.max(0, left) / lastS);
      },
    },
  });
  const logsIt = (style: FileStyle) => ({
    ...style,
    leavesOut: new Set([...style.leavesOut].filter((column) => column !== "stage")),
  });
  const trial = run(request, script, [planted], logsIt);
  const column = trial.text.split("\n", 1)[0]?.split(trial.style.delimiter).indexOf("MOSFET Temperature / degC") ?? -1;
  const hot = trial.text
    .split("\n")
    .filter((line) => Number(line.split(trial.style.delimiter)[column]?.replace(",", ".")) >= unusualC);
  return { trial, isIn: hot.length >= 3 };
}

function lastHours({ acts }: UseScript): number {
  const last = acts.at(-1);
  return last?.act === "rest" ? last.hours : 0;
}

/** A sound pack whose current is silent in up to half of the rows, in one stretch or in many. */
function currentMissing(request: Request): Made {
  const { chance, bench } = request;
  const share = chance.between(0.1, 0.5);
  const parts = chance.pick([1, 1, 3, 20]);
  const noCurrent = Array.from({ length: parts }, (_, part) => {
    const from = (part + chance.between(0, 1 - share)) / parts;
    return [from, from + share / parts] as const;
  });
  const withCurrent = (style: FileStyle): FileStyle => ({
    ...style,
    noCurrent,
    leavesOut: new Set([...style.leavesOut].filter((column) => column !== "current")),
  });
  return { trial: run(request, ordinaryUse(bench.model, chance), [], withCurrent), isIn: true };
}

/** A sound pack from which a tracker, an alarm or a board takes a small steady current for days. */
function drawnFrom(request: Request): Made {
  const { chance, bench } = request;
  const standingA = bench.model.ratedCapacityAh * sized(chance.uniform(), 0.0005, 0.015);
  const hours = Math.min(24 * chance.between(1.5, 6), (0.45 * bench.model.ratedCapacityAh) / standingA);
  const acts = [rest(0.2), ride(chance, minutesFor(bench.model, 10), 30), rest(hours)];
  const script = { startPercent: chance.between(75, 98), ambientC: chance.between(8, 28), acts };
  const drain = plant({
    fault: "outside-cause",
    kind: "drawn from while it stands",
    size: standingA,
    unit: "A",
    mischief: {
      start(run) {
        run.standingA = standingA;
      },
    },
  });
  const trial = run(request, script, [drain]);
  // It is no fault of the pack: whatever is found in it is false.
  return { trial: { ...trial, planted: [] }, isIn: true };
}

/** mV a day that is a fault by the trade; and V in which these files are written. */
const faultMillivoltPerDay = 3;
const coarseV = [0.005, 0.01, 0.02] as const;

function leakReadCoarsely(request: Request): Made {
  const { chance, bench, monitor } = request;
  const days = chance.between(1.9, 6);
  const script = parkedUse(bench.model, chance, days);
  const severity = chance.between(0.2, 0.9);
  const group = someGroup(bench.model.groups, [], chance);
  const planted = plantSelfDischarge({ bench, chance, severity, group, script });
  const coarse: Monitor = { ...monitor, stepV: chance.pick(coarseV), noiseV: chance.between(0.0002, 0.001) };
  const trial = run({ ...request, monitor: coarse }, script, [planted]);
  // At 8 mV a percent, the slope of a layered oxide in the middle: the least the leak can be in volts there.
  return { trial, isIn: planted.size * 8 >= faultMillivoltPerDay };
}

/** One group dips or leaps for seconds, in truth or as it is read, the others in the middle of their range: the board cries out. */
function alarmOfOneGroup(request: Request): Made {
  const { chance, bench } = request;
  const group = someGroup(bench.model.groups, [], chance);
  const isTrue = chance.happens(0.5);
  const lastsS = chance.between(2.2, 6) * Math.max(5, request.monitor.intervalS);
  const from = chance.between(0.25, 0.35);
  let sinceS = -1;
  const planted = plant({
    fault: "measurement-fault",
    kind: isTrue ? "a group that dips" : "a reading that dips",
    size: lastsS,
    unit: "s",
    mischief: {
      step(run, seconds) {
        if (run.progress < from) return;
        sinceS = sinceS < 0 ? 0 : sinceS + seconds;
        const now = sinceS < lastsS;
        if (isTrue) run.pack.lost[group - 1] = now ? 0.35 : 0;
        else run.channelV[group - 1] = now ? -1.3 : 0;
        // Bit of the open SunSpec models: UNDER_VOLT_ALARM 11.
        run.alarms = now ? 1 << 11 : 0;
      },
    },
  });
  const model = bench.model;
  const acts = [rest(0.3), ride(chance, minutesFor(model, 55), 25), rest(0.6), charge(model, chance), rest(0.5)];
  const script = { startPercent: chance.between(85, 97), ambientC: chance.between(8, 28), acts };
  const flagged = (style: FileStyle) => ({
    ...style,
    leavesOut: new Set([...style.leavesOut].filter((column) => column !== "flags")),
  });
  const trial = run(request, script, [planted], flagged);
  const column = trial.text.split("\n", 1)[0]?.split(trial.style.delimiter).indexOf("Protection Flags / 1") ?? -1;
  const isIn = trial.text.split("\n").some((line) => Number(line.split(trial.style.delimiter)[column]) === 1 << 11);
  return { trial, isIn };
}

/** % of charge per day of a leak that must be heard: 3 mV a day at half charge of a layered oxide (diagnostics.md 1.11, worked out). */
const heardPercentPerDay = 0.3;

/** One group leaks while a tracker or a board draws a common current through the only long rest. */
function leakUnderDraw(request: Request): Made {
  const { chance, bench } = request;
  const { model } = bench;
  const group = someGroup(model.groups, [], chance);
  const leakPercent = sized(chance.uniform(), 0.4, 4);
  const drawPercent = sized(chance.uniform(), 0.4, 4);
  const acts = [rest(0.3), ride(chance, minutesFor(model, 60), 20), rest(1), charge(model, chance), rest(0.5)];
  const last = [ride(chance, minutesFor(model, chance.between(10, 45)), 30), rest(chance.between(50, 90))];
  const script = { startPercent: 95, ambientC: chance.between(10, 28), acts: [...acts, ...last] };
  const planted = plant({
    fault: "self-discharge",
    kind: "under a common draw",
    size: leakPercent,
    unit: `% per day under a draw of ${drawPercent.toPrecision(2)}`,
    mischief: {
      start(run) {
        run.pack.leakA[group - 1] = ((leakPercent / 100) * model.ratedCapacityAh) / 24;
        run.standingA = ((drawPercent / 100) * model.ratedCapacityAh) / 24;
        run.balances = false;
      },
    },
  });
  const named = { ...planted, groups: [group] };
  const trial = run(request, script, [named]);
  // On a flat curve much charge is no volts: what the file cannot show nobody need hear.
  return { trial, isIn: leakPercent >= heardPercentPerDay && visibility(trial, named) === "visible" };
}

/** A file of ordinary use whose column of the switches reads so, whatever is there. */
function readingSwitches(
  request: Request,
  stageReads: NonNullable<FileStyle["stageReads"]>,
  planted: PlantedFault[],
): Made {
  const logged = (style: FileStyle): FileStyle => ({
    ...style,
    stageReads,
    leavesOut: new Set([...style.leavesOut].filter((column) => column !== "stage")),
  });
  return { trial: run(request, ordinaryUse(request.bench.model, request.chance), planted, logged), isIn: true };
}

/** Pulses of load heat and cool the switches by turns: no three rows on end are hot. */
function switchesHotByTurns(request: Request): Made {
  const { chance } = request;
  const [hotC, coolC] = [chance.between(115, 145), chance.between(65, 105)];
  const [from, every] = [chance.between(0.1, 0.6), chance.pick([2, 3])];
  const byTurns = plant({ fault: "power-stage-fault", kind: "hot by turns", size: hotC, unit: "degC", mischief: {} });
  const reads = (at: number, rows: number, soundC: number) =>
    at < from * rows || at > (from + 0.2) * rows ? soundC : at % every === 0 ? coolC : hotC;
  return readingSwitches(request, reads, [byTurns]);
}

/** The probe jumps in the last two rows: a broken probe more likely than not, and nobody can tell. */
function switchProbeLeaps(request: Request): Made {
  const fast = { ...request, monitor: { ...request.monitor, intervalS: 2, parkedIntervalS: 2 } };
  const [first, second] = [request.chance.between(90, 140), request.chance.between(152, 198)];
  return readingSwitches(fast, (at, rows, soundC) => [second, first][rows - 1 - at] ?? soundC, []);
}

/** A board without the probe writes one number in every row. */
function noSwitchProbe(request: Request): Made {
  const written = request.chance.pick([255, 511, -40, 0]);
  return readingSwitches(request, () => written, []);
}

/** A sound pack of whose current the board logs a few rows of each minute. */
function currentInFewRows(request: Request): Made {
  const { chance, bench } = request;
  const of = chance.integer(6, 40);
  const currentInRows = { logged: chance.integer(2, 4), of };
  const withCurrent = (style: FileStyle): FileStyle => ({
    ...style,
    currentInRows,
    leavesOut: new Set([...style.leavesOut].filter((column) => column !== "current")),
  });
  return { trial: run(request, ordinaryUse(bench.model, chance), [], withCurrent), isIn: true };
}

/** Whether the verdict does what it must not. */
export function failsHardFile({ kind, isIn }: HardTrial, verdict: Verdict): boolean {
  const sound = verdict.findings[0]?.fault === "no-fault-found" && verdict.findings[0].safetyClass === "C";
  switch (mustNot[kind]) {
    case "call it sound":
      return isIn && sound;
    case "call it sound unsaid":
      return isIn && sound && !verdict.faults.some(({ saidUnseen }) => saidUnseen);
    case "call it sound or an emergency":
      return isIn && (sound || verdict.findings.some(({ fault }) => fault === "acute-event"));
    case "accuse it":
      return verdict.falseFindings.length > 0;
  }
}

/** Judges `packs` hard files of a seed and prints, kind by kind, how often a verdict did what it must not. Returns the kinds that fail more often than they may. */
export function printHardFiles(seed: number, packs: number): HardKind[] {
  const tooOften: HardKind[] = [];
  const judged = Array.from({ length: packs }, (_, place) => {
    const hard = makeHardTrial(seed, place);
    return { hard, place, verdict: judgeTrial(hard.trial) };
  });
  console.log(`Hard files, seed ${seed}, ${packs} files (exact 95 % limits).`);
  for (const kind of hardKinds) {
    const of = judged.filter(({ hard }) => hard.kind === kind);
    const heard = of.filter(({ hard }) => hard.isIn);
    const failed = of.filter(({ hard, verdict }) => failsHardFile(hard, verdict));
    if (failed.length > mayFail[mustNot[kind]] * heard.length) tooOften.push(kind);
    const named = heard.filter(({ verdict }) => verdict.faults.some((fault) => fault.named));
    const words = mustNot[kind] === "accuse it" ? "" : `; named ${sayShare(named.length, heard.length)}`;
    console.log(`  ${kind.padEnd(30)} ${mustNot[kind]}: ${sayShare(failed.length, heard.length)}${words}`);
    for (const { place, hard, verdict } of failed) {
      const { fault, confidence } = verdict.findings[0] ?? { fault: "nothing", confidence: 0 };
      const size = hard.trial.planted.map((one) => `${one.size.toPrecision(3)} ${one.unit}`).join(", ");
      console.log(`    ${seed}/${place}: ${fault} ${confidence} ${size}`);
    }
  }
  if (tooOften.length > 0) console.log(`MISSED: ${tooOften.join(", ")}.`);
  return tooOften;
}
