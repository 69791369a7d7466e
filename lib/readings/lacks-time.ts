import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import type { Quantity } from "@/lib/readings/quantity";

const timeQuantities: ReadonlySet<string> = new Set<Quantity>(["time-of-some-kind", "test-time", "unix-time", "date"]);

export function isTime(quantity: string): boolean {
  return timeQuantities.has(quantity);
}

/** Whether none of the chosen columns is the time, without which no file can be read. */
export function lacksTime(choices: Iterable<Pick<ColumnChoice, "quantity">>): boolean {
  for (const { quantity } of choices) if (isTime(quantity)) return false;
  return true;
}
