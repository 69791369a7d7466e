import { steps } from "@/lib/readings/measure/group-resistance";
import { median } from "@/lib/readings/measure/median";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import { weightedLeastSquares } from "@/lib/stats/weighted-least-squares";

/** How far an excess of resistance does what the cells of this pack do beyond Ohm's law. */
export interface FollowedPolarisation {
  /** About 1 for a cell of which all has grown alike, 0 for a weld or link. */
  readonly share: number;
  readonly error: number;
}

/** What is the same for every group: some load steps, and what two halves of the pack do at them, each beyond its own resistance. */
export interface PolarisationBasis {
  readonly rows: Int32Array;
  readonly amps: Float64Array;
  /** Charge moved in each step, As: it moves the rest voltage of every group alike, and is no polarisation. */
  readonly moved: Float64Array;
  readonly usualOhm: number;
  /** Steps of the middle of the groups of odd and of even number, V; and of these what Ohm's law leaves. */
  readonly odd: Float64Array;
  readonly oddBeyond: Float64Array;
  readonly evenBeyond: Float64Array;
}

/** Load steps looked at at most, and needed; groups a half needs. Engineering defaults. */
const stepsLookedAt = 2000;
const stepsNeeded = 30;
const groupsOfHalf = 4;
/** Multiple of the mean square beyond which a load step is a glitch. Engineering default. */
const trimTimes = 25;

/** `null` where the log holds too few load steps or the pack too few groups. O(steps · groups). */
export function polarisationBasis({ log, groups }: RowSurvey, all: Int32Array): PolarisationBasis | null {
  const stride = Math.max(1, Math.ceil(all.length / stepsLookedAt));
  const rows = all.filter((_, at) => at % stride === 0);
  if (rows.length < stepsNeeded || groups < 2 * groupsOfHalf) return null;
  const amps = steps(rows, log.currentA);
  const columns = log.cellVoltagesV.map((column) => steps(rows, column));
  const middleOf = (rest: number) => {
    const half = columns.filter((_, index) => index % 2 === rest);
    return amps.map((_, at) => median(half.map((column) => column[at] ?? Number.NaN)) ?? Number.NaN);
  };
  const [odd, even] = [middleOf(0), middleOf(1)];
  const moved = Float64Array.from(rows, (row) => movedAs(log, row));
  const [ofOdd, ofEven] = [beyondOhm(amps, moved, odd), beyondOhm(amps, moved, even)];
  if (ofOdd === null || ofEven === null || !(ofOdd.ohm > 0)) return null;
  return { rows, amps, moved, usualOhm: ofOdd.ohm, odd, oddBeyond: ofOdd.beyond, evenBeyond: ofEven.beyond };
}

/**
 * At each load step a sound group answers with its resistance times the step, and with more or less than that by how long it bore which load
 * before: polarisation builds up and fades. A cell of high resistance has more of both, a weld or link of the first alone. So what the
 * group deviates by beyond Ohm's law is held against what sound groups do beyond theirs, over what it would be for a cell that is worse
 * in everything by as much as its resistance is. It asks for no time constant, and tells in a log of minutes as well.
 *
 * What half of the groups do is the instrument for what the other half does (instrumental variables, Durbin 1954, from memory): noise of
 * the readings, which the deviation shares with the groups it is held against, would else make every cell look like a weld.
 */
export function followedPolarisation(
  { rows, amps, moved, usualOhm, odd, oddBeyond, evenBeyond }: PolarisationBasis,
  column: Float64Array,
): FollowedPolarisation | null {
  const deviation = steps(rows, column).map((volt, at) => volt - (odd[at] ?? Number.NaN));
  const excess = beyondOhm(amps, moved, deviation);
  if (excess === null || !(excess.ohm > 0)) return null;
  const { ohm, beyond: own } = excess;
  const products = Float64Array.from(own, (volt, at) => volt * (evenBeyond[at] ?? Number.NaN));
  const common = Float64Array.from(oddBeyond, (volt, at) => volt * (evenBeyond[at] ?? Number.NaN));
  const isKept = keptAt(own, oddBeyond, evenBeyond);
  let [sum, of] = [0, 0];
  for (const [at, kept] of isKept.entries()) {
    if (!kept) continue;
    sum += products[at] ?? 0;
    of += common[at] ?? 0;
  }
  if (!(of > 0)) return null;
  const follows = sum / of;
  let variance = 0;
  for (const [at, kept] of isKept.entries())
    if (kept) variance += ((products[at] ?? 0) - follows * (common[at] ?? 0)) ** 2;
  return { share: (follows * usualOhm) / ohm, error: ((Math.sqrt(variance) / of) * usualOhm) / ohm };
}

/** Resistance at these steps, and what neither it nor the charge moved explains of the volts. */
function beyondOhm(
  amps: Float64Array,
  moved: Float64Array,
  volts: Float64Array,
): { readonly ohm: number; readonly beyond: Float64Array } | null {
  const isWhole = volts.map((volt, at) => (Number.isFinite(volt + (moved[at] ?? Number.NaN)) ? 1 : 0));
  const whole = (column: Float64Array) => column.map((one, at) => (isWhole[at] === 1 ? one : 0));
  const scaleAs = Math.max(...moved.filter(Number.isFinite).map(Math.abs), 1e-9);
  const fit = weightedLeastSquares([whole(amps), whole(moved).map((one) => one / scaleAs)], whole(volts), isWhole);
  const ohm = fit?.coefficients[0];
  if (fit === null || ohm === undefined) return null;
  return { ohm, beyond: fit.residuals.map((volt, at) => (isWhole[at] === 1 ? volt : Number.NaN)) };
}

function movedAs({ currentA, timeS }: RowSurvey["log"], row: number): number {
  const seconds = (timeS[row] ?? Number.NaN) - (timeS[row - 1] ?? Number.NaN);
  return (((currentA[row] ?? Number.NaN) + (currentA[row - 1] ?? Number.NaN)) / 2) * seconds;
}

/** Steps at which nothing is missing and nothing far from all others: a glitch is neither cell nor weld. */
function keptAt(...columns: readonly Float64Array[]): boolean[] {
  const squares = columns.map((column) => column.map((volt) => volt * volt));
  const typical = squares.map((some) => median(some) ?? 0);
  return Array.from(columns[0] ?? [], (_, at) =>
    squares.every((some, place) => (some[at] ?? Number.NaN) <= Math.max(trimTimes * (typical[place] ?? 0), 1e-12)),
  );
}
