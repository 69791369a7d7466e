import {
  type EventHistory,
  type MeanCumulativeStep,
  meanCumulativeFunction,
} from "@/lib/stats/mean-cumulative-function";
import type { Limits } from "@/lib/stats/survival-limits";
import { daysAtMonths, MILESTONE_MONTHS } from "./months-in-service";
import { grouped } from "./plain-share";

/** So many customers' places with the same history: the first pack and every one that took its place. Ages in days. */
export interface PlaceHistory {
  readonly from: number;
  readonly to: number;
  /** Ages of the first pack, had it stayed, at which a return was told. */
  readonly returns: readonly number[];
  readonly places: number;
}

export interface ReturnsByAge extends Limits {
  readonly months: number;
  /** Mean number of returns of a place by then. */
  readonly mean: number;
  readonly atRisk: number;
}

export interface RepeatReturns {
  readonly places: number;
  readonly returns: number;
  /** Places with a return, and with more than one. */
  readonly returned: number;
  readonly returnedAgain: number;
  /** At the milestones that some place has reached. */
  readonly atMilestones: readonly ReturnsByAge[];
  readonly steps: readonly MeanCumulativeStep[];
}

/**
 * Answers: how many returns does a customer have with one pack and its replacements, on average, by each age?
 *
 * Mean cumulative function over places, with limits that assume nothing of how one place's returns hang together. Every
 * return within the first pack's cover counts, whatever was found: it is the customer's burden, not the packs' failures.
 */
export function repeatReturns(histories: readonly PlaceHistory[]): RepeatReturns {
  const systems = histories.flatMap(({ from, to, returns, places }): EventHistory[] =>
    Array.from({ length: places }, () => ({ from, to, events: returns })),
  );
  const steps = meanCumulativeFunction(systems);
  const oldest = systems.reduce((most, { to }) => Math.max(most, to), 0);
  const having = (least: number) => systems.reduce((sum, { events }) => sum + (events.length >= least ? 1 : 0), 0);
  return {
    places: systems.length,
    returns: systems.reduce((sum, { events }) => sum + events.length, 0),
    returned: having(1),
    returnedAgain: having(2),
    atMilestones: MILESTONE_MONTHS.flatMap((months) => {
      const age = daysAtMonths(months);
      const last = steps.findLast((step) => step.age <= age);
      if (age > oldest || last === undefined) return [];
      const atRisk = systems.reduce((sum, { from = 0, to }) => sum + (from < age && age <= to ? 1 : 0), 0);
      return [{ months, mean: last.mean, lower: last.lower, upper: last.upper, atRisk }];
    }),
    steps,
  };
}

export function repeatReturnsSentence({
  places,
  returns,
  returned,
  returnedAgain,
  atMilestones,
}: RepeatReturns): string {
  if (places === 0) return "No pack of it has been sold and watched yet.";
  if (returns === 0) return `None of ${grouped(places)} customers watched has come back within cover.`;
  const again = `Of ${grouped(places)} customers who got one of these packs, ${grouped(returned)} came back within cover, ${grouped(returnedAgain)} of them more than once, with the pack or with one that took its place.`;
  const last = atMilestones.at(-1);
  if (last === undefined) return again;
  return `${again} By ${last.months} months that makes ${hundred(last.mean)} returns for 100 customers (95 % limits ${hundred(last.lower)} to ${hundred(last.upper)}; ${grouped(last.atRisk)} watched so long).`;
}

/** Returns of one customer as returns of a hundred. */
export function hundred(mean: number): string {
  return (mean * 100).toFixed(1);
}
