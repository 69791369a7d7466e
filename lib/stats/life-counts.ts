/**
 * What happened at one age, over all units of a group: how many came under observation just after it, how many failed
 * at it, how many were last seen running at it.
 *
 * A list of these, one per distinct age in rising order, is all that Kaplan-Meier, Nelson-Aalen, log-rank and Weibull
 * need, also with delayed entry: the number at risk at age t is (entries before t) minus (exits before t), because
 * every unit enters before it leaves. So nothing after counting grows with the number of units.
 */
export interface LifeCount {
  readonly age: number;
  readonly entered: number;
  readonly failed: number;
  readonly censored: number;
}

export type LifeProblem = "not-a-number" | "negative-age" | "exit-not-after-entry";

/**
 * Says why an observed life (entryAge, exitAge] cannot be counted, or null if it can. Both ages in one unit, counted
 * from first use; an entry of 0 means "watched from the start".
 */
export function lifeProblem(entryAge: number, exitAge: number): LifeProblem | null {
  if (!Number.isFinite(entryAge) || !Number.isFinite(exitAge)) return "not-a-number";
  if (entryAge < 0 || exitAge < 0) return "negative-age";
  return exitAge > entryAge ? null : "exit-not-after-entry";
}

/** Failures at all ages together. */
export function countFailures(counts: readonly Pick<LifeCount, "failed">[]): number {
  return counts.reduce((sum, { failed }) => sum + failed, 0);
}

/**
 * Number of units at risk at `age`: entered before it and not gone before it (entry < age <= exit). A unit last seen
 * running at exactly this age is still at risk at it: it was running when the failures of that age happened.
 */
export function atRiskAt(counts: readonly LifeCount[], age: number): number {
  let atRisk = 0;
  for (const count of counts) {
    if (count.age >= age) break;
    atRisk += count.entered - count.failed - count.censored;
  }
  return atRisk;
}

/** Fewest units at risk anywhere in (0, age]: 0 where some stretch of ages up to `age` was watched on nobody. */
export function fewestAtRiskUpTo(counts: readonly LifeCount[], age: number): number {
  let atRisk = 0;
  let fewest = Number.POSITIVE_INFINITY;
  let previousAge = 0;
  for (const count of counts) {
    if (count.age > previousAge) fewest = Math.min(fewest, atRisk);
    if (count.age >= age) return fewest;
    atRisk += count.entered - count.failed - count.censored;
    previousAge = count.age;
  }
  return 0;
}

export interface AgeSpan {
  readonly fromAge: number;
  readonly toAge: number;
}

/**
 * Stretches of age, before the last exit, in which no unit was under observation. A survival curve runs flat over
 * them, which looks like "nobody fails" and means "nobody was watched": every reader must be told.
 */
export function unobservedSpans(counts: readonly LifeCount[]): AgeSpan[] {
  const spans: AgeSpan[] = [];
  let atRisk = 0;
  let previousAge = 0;
  for (const { age, entered, failed, censored } of counts) {
    if (atRisk === 0 && age > previousAge) spans.push({ fromAge: previousAge, toAge: age });
    atRisk += entered - failed - censored;
    previousAge = age;
  }
  return spans;
}

/** The counts of several groups as those of one. */
export function pooledCounts(groups: readonly (readonly LifeCount[])[]): LifeCount[] {
  const pooled = new Map<number, { age: number; entered: number; failed: number; censored: number }>();
  for (const { age, entered, failed, censored } of groups.flat()) {
    const sum = pooled.get(age) ?? { age, entered: 0, failed: 0, censored: 0 };
    sum.entered += entered;
    sum.failed += failed;
    sum.censored += censored;
    pooled.set(age, sum);
  }
  return [...pooled.values()].sort((a, b) => a.age - b.age);
}

/** Time under observation, over all units: sum of exits less sum of entries, in units times the unit of the ages. */
export function lifeExposure(counts: readonly LifeCount[]): number {
  let exposure = 0;
  for (const { age, entered, failed, censored } of counts) exposure += age * (failed + censored - entered);
  return exposure;
}
