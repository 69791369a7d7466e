import { twoSidedNormalQuantile } from "./normal-quantile";
import type { Limits } from "./survival-limits";

/** One repairable system, watched from age `from` (exclusive, 0 where missing) to age `to` (inclusive). */
export interface EventHistory {
  readonly from?: number;
  readonly to: number;
  /** Ages of its events, in any order, several at one age allowed; each inside the time it was watched. */
  readonly events: readonly number[];
}

export interface MeanCumulativeStep extends Limits {
  readonly age: number;
  readonly atRisk: number;
  readonly events: number;
  /** Mean number of events per system by `age`. */
  readonly mean: number;
  readonly standardError: number;
}

/**
 * Answers: how many events (repairs, replacements at one place) has a system had on average by each age?
 *
 * M(t) = sum over event ages up to t of events / systems watched. Nothing is assumed of how the events of one system hang
 * together: the variance is the sum over systems of the square of what each adds to M(t), its own events over the number
 * watched minus its share of the mean. Limits on the log scale, M times or divided by exp(z se / M).
 *
 * Systems must be independent of each other, and leaving must have nothing to do with events to come. No events: no steps.
 * Domain: 0 <= from < to, events in (from, to], else a RangeError.
 * Sources: Nelson, J. Qual. Technol. 27 (1995) 147-157; variance: Lawless & Nadeau, Technometrics 37 (1995) 158-168; limits:
 * Nelson, Recurrent Events Data Analysis (2003), chapter 3.
 */
export function meanCumulativeFunction(systems: readonly EventHistory[], confidence = 0.95): MeanCumulativeStep[] {
  const z = twoSidedNormalQuantile(confidence);
  const moments = momentsByAge(systems);
  const watched = new WatchedSystems(systems.length);
  const steps: MeanCumulativeStep[] = [];
  let mean = 0;
  for (const { age, entering, leaving, happening } of moments) {
    if (happening.length > 0) {
      const step = happening.length / watched.count;
      mean += step;
      watched.addEvents(happening);
      const standardError = Math.sqrt(watched.sumOfSquares());
      const spread = Math.exp((z * standardError) / mean);
      steps.push({
        age,
        atRisk: watched.count,
        events: happening.length,
        mean,
        standardError,
        lower: mean / spread,
        upper: mean * spread,
      });
    }
    for (const system of leaving) watched.leave(system);
    for (const system of entering) watched.enter(system);
  }
  return steps;
}

interface Moment {
  readonly age: number;
  readonly entering: number[];
  readonly leaving: number[];
  readonly happening: number[];
}

function momentsByAge(systems: readonly EventHistory[]): Moment[] {
  const moments = new Map<number, Moment>();
  function at(age: number): Moment {
    const known = moments.get(age) ?? { age, entering: [], leaving: [], happening: [] };
    moments.set(age, known);
    return known;
  }
  for (const [system, { from = 0, to, events }] of systems.entries()) {
    if (!(from >= 0 && to > from && Number.isFinite(to)))
      throw new RangeError(`a system must be watched for some time, got (${from}, ${to}]`);
    at(from).entering.push(system);
    at(to).leaving.push(system);
    for (const age of events) {
      if (!(age > from && age <= to)) throw new RangeError(`an event at ${age} lies outside (${from}, ${to}]`);
      at(age).happening.push(system);
    }
  }
  return [...moments.values()].sort((a, b) => a.age - b.age);
}

/**
 * What each system has added to M(t) so far, summed as squares without visiting all systems at each event: what all
 * watched ones lose together is kept once, as `shared`, and settled when a system leaves.
 */
class WatchedSystems {
  count = 0;
  private shared = 0;
  private readonly own: Float64Array;
  /** Over the systems watched now: of own, of own squared. Over those gone: of the squares of their final parts. */
  private sumOwn = 0;
  private sumOwnSquared = 0;
  private sumGone = 0;

  constructor(systems: number) {
    this.own = new Float64Array(systems);
  }

  addEvents(happening: readonly number[]): void {
    for (const system of happening) this.change(system, 1 / this.count);
    this.shared += happening.length / this.count ** 2;
  }

  enter(system: number): void {
    this.count += 1;
    this.change(system, this.shared);
  }

  leave(system: number): void {
    const own = this.own[system] ?? 0;
    this.count -= 1;
    this.sumOwn -= own;
    this.sumOwnSquared -= own * own;
    this.sumGone += (own - this.shared) ** 2;
  }

  sumOfSquares(): number {
    const watched = this.sumOwnSquared - 2 * this.shared * this.sumOwn + this.count * this.shared ** 2;
    return Math.max(0, this.sumGone + watched);
  }

  private change(system: number, by: number): void {
    const before = this.own[system] ?? 0;
    const after = before + by;
    this.own[system] = after;
    this.sumOwn += by;
    this.sumOwnSquared += after * after - before * before;
  }
}
