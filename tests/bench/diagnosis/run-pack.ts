import type { BenchModel } from "./bench-models";
import type { Chance } from "./chance";
import { type Monitor, readCurrent, readGroups, readPack, rounded } from "./monitor";
import { advance, currentAtTerminalV, groupV, type Pack, resistanceFactor } from "./pack-physics";
import { type Act, rideDemand, type UseScript } from "./use-script";

/** The pack, its board and everything a fault may meddle with while the script runs. */
export interface Run {
  readonly bench: BenchModel;
  readonly pack: Pack;
  readonly monitor: Monitor;
  readonly chance: Chance;
  readonly tapV: Float64Array;
  readonly channelV: Float64Array;
  readonly bleedA: Float64Array;
  readonly probeC: Float64Array;
  /** What a broken probe reads instead, or null while it is sound. */
  readonly probeReads: ((soundC: number) => number | null)[];
  /** Groups whose reading is held; NaN while it is live. */
  readonly heldV: Float64Array;
  /** Missing value instead of a reading. */
  readonly blank: Uint8Array;
  /** Current that flows through a shorted switch although it is commanded off, A. */
  stuckA: number;
  /** Current that something in the pack or the vehicle takes while it stands, A. */
  standingA: number;
  /** K by which the switches are warmer than their load makes them. */
  stageHeatK: number;
  /** Terminals cut off although the switches are commanded on. */
  open: boolean;
  commandedOff: boolean;
  protects: boolean;
  balances: boolean;
  /** The balancer also works while the pack rests near full. */
  balancesAtRest: boolean;
  /** The logger sleeps: nothing is written. */
  asleep: boolean;
  /** The logger repeats its last row. */
  standsStill: boolean;
  /** Protection flags the board raises besides its own cut-offs. */
  alarms: number;
  insulationKiloohm: number;
  timeS: number;
  /** Share of the script's acts that are over, 0 to 1. */
  progress: number;
  riding: boolean;
  readonly rows: LoggedRow[];
  readonly truth: TruthRow[];
}

export interface LoggedRow {
  readonly timeS: number;
  readonly packV: number;
  readonly currentA: number;
  readonly cellV: readonly number[];
  readonly probeC: readonly number[];
  readonly stageC: number;
  readonly chargeOn: number;
  readonly dischargeOn: number;
  readonly mask: number;
  readonly flags: number;
  readonly soc: number;
  readonly insulationKiloohm: number;
}

/** What was true when the row was logged. */
export interface TruthRow {
  readonly timeS: number;
  readonly currentA: number;
  readonly restedS: number;
  readonly percent: Float64Array;
  /** Of the worst joint, ohm. */
  readonly jointOhm: number;
  readonly pathOhm: number;
  readonly ohm: Float64Array;
  /** Resistance of the median group as the file's interval can read it: with the polarisation that builds up meanwhile. */
  readonly intervalOhm: number;
  readonly probeC: Float64Array;
  readonly tapErrorV: number;
  readonly highestV: number;
  /** The file holds the row before once more in its place. */
  readonly stoodStill: boolean;
}

/** A fault that goes on while the log runs. */
export interface Mischief {
  start?(run: Run): void;
  step?(run: Run, seconds: number): void;
}

const ratingShareAtRest = 0.02;

/** Plays the script and fills `rows` and `truth`. */
export function playScript(run: Run, script: UseScript, mischiefs: readonly Mischief[]): void {
  run.balancesAtRest = script.balancesAtRest === true;
  run.alarms = script.alarms ?? 0;
  for (const one of mischiefs) one.start?.(run);
  const player = new Player(run, mischiefs, script);
  for (const [place, act] of script.acts.entries()) {
    run.progress = place / script.acts.length;
    player.play(act, (place + 1) / script.acts.length);
  }
}

class Player {
  private nextRowS = 0;
  private restedS = 0;
  private soc: number;
  private chargeOff = false;
  private dischargeOff = false;
  private slow: { ohm: Float64Array; intervalOhm: number; percent: Float64Array } | null = null;
  private staleFrom = 0;
  private lastCells: Float64Array | null = null;
  private sums: { cells: Float64Array; tapV: Float64Array; packV: number; currentA: number; count: number } | null =
    null;
  private loggedTapV: Float64Array | null = null;

  private readonly run: Run;
  private readonly mischiefs: readonly Mischief[];

  private readonly script: UseScript;

  constructor(run: Run, mischiefs: readonly Mischief[], script: UseScript) {
    this.script = script;
    this.run = run;
    this.mischiefs = mischiefs;
    this.soc = run.pack.percent.reduce((sum, one) => sum + one, 0) / run.pack.groups;
  }

  play(act: Act, endProgress: number): void {
    const { run } = this;
    const { model } = run.bench;
    const { monitor } = run;
    const startProgress = run.progress;
    const riding = act.act === "ride";
    const demandA = act.act === "ride" ? rideDemand(model, act, run.chance) : null;
    const seconds = act.act === "ride" ? (demandA?.length ?? 0) : act.hours * 3600;
    const step = riding
      ? 1
      : act.act === "charge"
        ? Math.min(5, monitor.intervalS)
        : Math.min(monitor.parkedIntervalS, 30);
    let tapering = 0;
    for (let at = 0; at < seconds; at += step) {
      run.progress = startProgress + (endProgress - startProgress) * (at / seconds);
      run.riding = riding;
      const currentA = this.flowing(act, demandA?.[Math.floor(at)] ?? 0);
      for (const one of this.mischiefs) one.step?.(run, step);
      this.advanceBy(currentA, step, act.act === "rest" ? monitor.parkedIntervalS : monitor.intervalS);
      const percents = run.pack.percent;
      if (riding && Math.min(...percents) < act.stopPercent) return;
      if (act.act !== "charge") continue;
      if (Math.max(...percents) > act.stopPercent) return;
      tapering = currentA < 0.05 * act.currentA ? tapering + step : 0;
      if (tapering >= 60) return;
    }
  }

  private flowing(act: Act, askedA: number): number {
    const { run } = this;
    const { model } = run.bench;
    if (run.stuckA !== 0) return run.stuckA;
    if (run.open) return 0;
    if (act.act === "rest") return -run.standingA;
    if (act.act === "charge") {
      if (this.chargeOff && run.protects) return 0;
      const warmest = Math.max(...run.probeC);
      const coldest = Math.min(...run.probeC);
      const outside = warmest > model.chargeMaxTemperatureC - 2 || coldest < model.chargeMinTemperatureC + 1;
      if (outside && run.protects) return 0;
      const endV = model.groups * (model.cellMaxV - 0.01) + act.excessV;
      return Math.max(0, Math.min(act.currentA, currentAtTerminalV(run.pack, endV)));
    }
    if (askedA > 0) return Math.max(...run.pack.percent) > 92 || (this.chargeOff && run.protects) ? 0 : askedA;
    return this.dischargeOff && run.protects ? 0 : askedA;
  }

  private advanceBy(currentA: number, seconds: number, intervalS: number): void {
    const { run } = this;
    const { pack, monitor, chance } = run;
    const { ambientC, swingK = 0 } = this.script;
    pack.ambientC = ambientC + swingK * Math.sin((2 * Math.PI * run.timeS) / 86400);
    advance(pack, currentA, run.bleedA, seconds);
    run.timeS += seconds;
    this.restedS = Math.abs(currentA) <= ratingShareAtRest * pack.ratedAh ? this.restedS + seconds : 0;
    this.soc += (currentA * seconds) / 36 / pack.ratedAh;
    for (const [place, probe] of monitor.probes.entries()) {
      const goal = pack.warmC[probe.on] ?? 0;
      run.probeC[place] = goal + ((run.probeC[place] ?? goal) - goal) * Math.exp(-seconds / probe.followsS);
    }
    const due = run.timeS >= this.nextRowS;
    if (!due && monitor.sampling !== "averaged") return;
    const cells = readGroups(pack, monitor, currentA, run.bleedA, run, chance);
    const packV = readPack(pack, monitor, currentA, run.open, chance);
    const read = readCurrent(monitor, currentA, chance);
    if (monitor.sampling === "averaged") {
      this.sums ??= {
        cells: new Float64Array(pack.groups),
        tapV: new Float64Array(pack.groups + 1),
        packV: 0,
        currentA: 0,
        count: 0,
      };
      this.sums.tapV = this.sums.tapV.map((sum, tap) => sum + (run.tapV[tap] ?? 0));
      this.sums.cells = this.sums.cells.map((sum, k) => sum + (cells[k] ?? 0));
      this.sums.packV += packV;
      this.sums.currentA += read;
      this.sums.count += 1;
      if (!due) return;
      const { count } = this.sums;
      this.loggedTapV = this.sums.tapV.map((sum) => sum / count);
      this.log(
        this.sums.cells.map((sum) => rounded(sum / count, monitor.stepV)),
        rounded(this.sums.packV / count, monitor.packStepV),
        rounded(this.sums.currentA / count, monitor.currentStepA),
        currentA,
      );
      this.sums = null;
    } else this.log(this.mixed(cells), packV, read, currentA);
    this.nextRowS = run.timeS + intervalS - 0.001;
  }

  /** A board that refreshes a third of its channels per row. */
  private mixed(cells: Float64Array): Float64Array {
    if (this.run.monitor.sampling !== "stale") return cells;
    const held = this.lastCells ?? cells.slice();
    const share = Math.ceil(cells.length / 5);
    for (let n = 0; n < share; n += 1) {
      const k = (this.staleFrom + n) % cells.length;
      held[k] = cells[k] ?? 0;
    }
    this.staleFrom = (this.staleFrom + share) % cells.length;
    this.lastCells = held;
    return held.slice();
  }

  private log(read: Float64Array, packV: number, readA: number, currentA: number): void {
    const { run } = this;
    const { pack, monitor, chance } = run;
    if (run.asleep) return;
    const last = run.rows.at(-1);
    if (run.standsStill && last !== undefined) {
      run.rows.push({ ...last, timeS: run.timeS });
      this.noteTruth(currentA);
      return;
    }
    const cellV = Array.from(read, (volt, k) => {
      if (run.blank[k] === 1) return Number.NaN;
      const held = run.heldV[k] ?? Number.NaN;
      return Number.isFinite(held) ? held : volt;
    });
    this.protect(cellV, currentA);
    const probeC = monitor.probes.map((probe, place) => {
      const sound = (run.probeC[place] ?? 0) + probe.offsetK + chance.normal(monitor.probeNoiseK);
      return rounded(run.probeReads[place]?.(sound) ?? sound, monitor.probeStepK);
    });
    run.rows.push({
      timeS: run.timeS,
      packV,
      currentA: readA,
      cellV,
      probeC,
      stageC: Math.round((pack.stageC + run.stageHeatK) * 10) / 10,
      chargeOn: this.chargeOff && run.protects ? 0 : 1,
      dischargeOn: (this.dischargeOff && run.protects) || run.commandedOff ? 0 : 1,
      mask: run.bleedA.reduce((mask, amp, k) => mask + (amp > 0 ? 2 ** k : 0), 0),
      flags: (this.chargeOff ? 1 << 9 : 0) | (this.dischargeOff ? 1 << 11 : 0) | run.alarms,
      soc: Math.round(Math.min(100, Math.max(0, this.soc)) * 10) / 10,
      insulationKiloohm: Math.round(run.insulationKiloohm * chance.between(0.97, 1.03)),
    });
    this.noteTruth(currentA);
  }

  /** What changes slowly is worked out for one row in 25 and shared by the rows between. */
  private noteTruth(currentA: number): void {
    const { run } = this;
    const { pack } = run;
    if (this.slow === null || run.truth.length % 25 === 0) {
      const ohm = new Float64Array(pack.groups);
      for (let k = 0; k < pack.groups; k += 1) ohm[k] = groupV(pack, k, 1) - groupV(pack, k, 0);
      const { intervalS } = run.monitor;
      const fast = 1 - Math.exp(-intervalS / pack.fastS);
      const slow = 1 - Math.exp(-intervalS / pack.slowS);
      const interval = ohm.map((one, k) => {
        const polarised = fast * (pack.fastOhm[k] ?? 0) + slow * (pack.slowOhm[k] ?? 0);
        return one + resistanceFactor(pack, k) * polarised;
      });
      this.slow = { ohm, intervalOhm: interval.sort()[interval.length >> 1] ?? 0, percent: pack.percent.slice() };
    }
    let highestV = 0;
    if (currentA > 0) for (let k = 0; k < pack.groups; k += 1) highestV = Math.max(highestV, groupV(pack, k, currentA));
    let tapErrorV = 0;
    for (const volt of this.loggedTapV ?? run.tapV) tapErrorV = Math.max(tapErrorV, Math.abs(volt));
    run.truth.push({
      timeS: run.timeS,
      currentA,
      restedS: this.restedS,
      percent: this.slow.percent,
      jointOhm: Math.max(...pack.jointOhm),
      pathOhm: pack.pathOhm,
      ohm: this.slow.ohm,
      intervalOhm: this.slow.intervalOhm,
      probeC: run.probeC.slice(),
      tapErrorV,
      stoodStill: run.standsStill,
      highestV,
    });
  }

  private protect(cellV: readonly number[], currentA: number): void {
    const { run } = this;
    const { model } = run.bench;
    const seen = cellV.filter(Number.isFinite);
    const highest = Math.max(...seen);
    const lowest = Math.min(...seen);
    if (highest > model.cellMaxV + 0.03) this.chargeOff = true;
    else if (highest < model.cellMaxV - 0.08) this.chargeOff = false;
    if (lowest < model.cellMinV - 0.05) this.dischargeOff = true;
    else if (lowest > model.cellMinV + 0.3) this.dischargeOff = false;
    const charges = currentA > ratingShareAtRest * model.ratedCapacityAh;
    const nearFull = run.balances && (charges || (run.balancesAtRest && currentA === 0));
    for (const [k, volt] of cellV.entries()) {
      run.bleedA[k] = nearFull && volt > model.cellMaxV - 0.15 && volt > lowest + 0.008 ? run.monitor.bleedA : 0;
    }
  }
}

export function newRun(bench: BenchModel, pack: Pack, monitor: Monitor, chance: Chance): Run {
  const { groups } = pack;
  return {
    bench,
    pack,
    monitor,
    chance,
    tapV: new Float64Array(groups + 1),
    channelV: new Float64Array(groups),
    bleedA: new Float64Array(groups),
    probeC: new Float64Array(monitor.probes.length).fill(pack.ambientC),
    probeReads: monitor.probes.map(() => () => null),
    heldV: new Float64Array(groups).fill(Number.NaN),
    blank: new Uint8Array(groups),
    stuckA: 0,
    standingA: 0,
    stageHeatK: 0,
    open: false,
    commandedOff: false,
    protects: true,
    balances: true,
    balancesAtRest: false,
    asleep: false,
    standsStill: false,
    alarms: 0,
    insulationKiloohm: chance.between(800, 5000),
    timeS: 0,
    progress: 0,
    riding: false,
    rows: [],
    truth: [],
  };
}
