import {
  type EventHistory,
  type MeanCumulativeStep,
  meanCumulativeFunction,
} from "@/lib/stats/mean-cumulative-function";
import type { UnitGroup, UnitSpan } from "./unit-groups";
import type { Refused } from "./weibull-document";

export interface RepeatsDocument {
  readonly units: number;
  readonly events: number;
  /** Units with more than one event. */
  readonly withMoreThanOne: number;
  /** Mean number of events per unit by age, with 95 % limits. */
  readonly meanCumulative: readonly MeanCumulativeStep[];
}

/**
 * Events of units that go on after one: their mean number by age. The rows of a unit must follow each other without a gap, as
 * a unit is one system watched once. Refused by a sentence where the file names no units, or where a unit's rows do not.
 */
export function repeatsDocument(units: UnitGroup["units"]): RepeatsDocument | Refused {
  if (units === null) return { refused: "The file has no column named unit." };
  const histories: EventHistory[] = [];
  for (const [unit, spans] of units) {
    const history = historyOf(spans);
    if (history === null)
      return { refused: `The rows of unit ${unit} do not follow each other: one must begin where another ends.` };
    histories.push(history);
  }
  const events = histories.reduce((sum, history) => sum + history.events.length, 0);
  return {
    units: histories.length,
    events,
    withMoreThanOne: histories.filter((history) => history.events.length > 1).length,
    meanCumulative: meanCumulativeFunction(histories),
  };
}

function historyOf(spans: readonly UnitSpan[]): EventHistory | null {
  const inOrder = spans.toSorted((a, b) => a.from - b.from);
  const [first, last] = [inOrder[0], inOrder.at(-1)];
  if (first === undefined || last === undefined) return null;
  if (inOrder.some(({ to }, i) => (inOrder[i + 1]?.from ?? to) !== to)) return null;
  return { from: first.from, to: last.to, events: inOrder.flatMap(({ to, event }) => (event ? [to] : [])) };
}
