import { type CalendarDate, compareDates } from "./calendar";
import { sayDate } from "./say-date";

/** One replacement by name: the pack that went, the pack that came. */
export interface NamedReplacement {
  readonly deliveredOn: CalendarDate;
  readonly oldSerial?: string | undefined;
  readonly newSerial?: string | undefined;
  /** Day since which the pack that came was in service at somebody already; missing for one from stock. */
  readonly newInServiceSince?: CalendarDate | undefined;
}

/**
 * What is wrong with a chain of replacements, in a sentence; null where nothing is. Every pack comes once and goes once,
 * nobody's pack in service replaces another, the days rise along the chain, and where all are named each begins where one
 * before it ended. Replacements without serials are not checked against each other, because nothing says which came first.
 */
export function chainFault(replacements: readonly NamedReplacement[]): string | null {
  for (const { deliveredOn, newSerial, newInServiceSince } of replacements) {
    if (newInServiceSince === undefined || compareDates(newInServiceSince, deliveredOn) >= 0) continue;
    return `replacements: ${newSerial ?? "the pack"} delivered on ${sayDate(deliveredOn)} was in service since ${sayDate(newInServiceSince)} already, so it is no replacement from stock.`;
  }
  const byOld = new Map<string, NamedReplacement>();
  const came = new Set<string>();
  for (const link of replacements) {
    if (link.oldSerial === undefined || link.newSerial === undefined) continue;
    if (byOld.has(link.oldSerial)) return `replacements: ${link.oldSerial} is replaced twice.`;
    if (came.has(link.newSerial)) return `replacements: ${link.newSerial} comes twice.`;
    byOld.set(link.oldSerial, link);
    came.add(link.newSerial);
  }
  for (const first of byOld.values()) {
    let link = first;
    for (let steps = 0; link.newSerial !== undefined; steps++) {
      const next = byOld.get(link.newSerial);
      if (next === undefined) break;
      if (steps >= byOld.size) return "replacements: the chain leads back to a pack that went before.";
      if (next !== first && compareDates(next.deliveredOn, link.deliveredOn) < 0) {
        return `replacements: ${link.newSerial} came on ${sayDate(link.deliveredOn)} but went on ${sayDate(next.deliveredOn)} already.`;
      }
      link = next;
    }
  }
  const beginnings = [...byOld.keys()].filter((serial) => !came.has(serial));
  return byOld.size === replacements.length && beginnings.length > 1
    ? `replacements: ${beginnings.join(" and ")} begin chains of their own; give those of one pack.`
    : null;
}
