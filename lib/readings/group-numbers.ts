import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { headerWords, headingStem } from "@/lib/readings/header-words";
import { HIGHEST_GROUP } from "@/lib/readings/quantity";

/**
 * Numbers of the series groups, from 1, that the headings of their columns tell: the one number in which the headings differ; the
 * place, where none has a number or they are called columns; the count through all modules, where they name a module and a group in
 * it that rise together. Null where the headings do not tell one column from another.
 */
export function groupNumbers(headers: readonly string[]): readonly number[] | null {
  const inHeading = headers.map(numberWords);
  const byPlace = headers.map((_, at) => at + 1);
  if (inHeading.every((words) => words.length === 0) || headers.every((header) => headingStem(header) === "column"))
    return byPlace;
  const places = inHeading[0]?.length ?? 0;
  if (inHeading.some((words) => words.length !== places)) return null;
  const varying = Array.from({ length: places }, (_, place) =>
    inHeading.map((words) => Number(words[place] ?? "")),
  ).filter((numbers) => new Set(numbers).size > 1);
  const [numbers, second, ...others] = varying;
  if (numbers === undefined || others.length > 0) return null;
  if (second !== undefined) return throughModules(numbers, second);
  return new Set(numbers).size < numbers.length ? null : fromOne(numbers);
}

/** The number of a group that one heading tells by itself; null where it has none or several. */
export function groupNumberIn(header: string): number | null {
  const [number, ...others] = numberWords(header);
  return number === undefined || others.length > 0 || Number(number) > HIGHEST_GROUP ? null : Number(number);
}

function numberWords(header: string): string[] {
  return headerWords(header).filter((word) => /^\d+$/.test(word));
}

function fromOne(numbers: readonly number[]): readonly number[] | null {
  const shift = Math.min(...numbers) === 0 ? 1 : 0;
  return Math.max(...numbers) + shift > HIGHEST_GROUP ? null : numbers.map((number) => number + shift);
}

/** Null where a module or a group in one is left out, or where they do not rise from column to column. */
function throughModules(modules: readonly number[], groups: readonly number[]): readonly number[] | null {
  const first = { module: modules[0] ?? Number.NaN, group: groups[0] ?? Number.NaN };
  if (first.module > 1 || first.group > 1) return null;
  const follows = (at: number) => {
    const step = (modules[at] ?? 0) - (modules[at - 1] ?? 0);
    const next = (groups[at - 1] ?? 0) + 1;
    return step === 0 ? groups[at] === next : step === 1 && (groups[at] === first.group || groups[at] === next);
  };
  return modules.every((_, at) => at === 0 || follows(at)) ? fromOne(modules.map((_, at) => at + 1)) : null;
}

/** Heading of a column by the name a mapping gives it: without the place among its likes that a mapping adds. */
export function headingsOfKeys(keys: readonly string[]): string[] {
  const known = new Set(keys);
  return keys.map((key) => {
    const heading = /^(.*) \(\d+\)$/s.exec(key)?.[1];
    return heading !== undefined && known.has(heading) ? heading : key;
  });
}

/** Numbers that the answers leave open: columns without one, and numbers that two columns have. */
export interface NumbersToSay {
  readonly unsaid: readonly string[];
  readonly twice: readonly number[];
}

/** What the answers leave open of the groups; a single column of a voltage needs no number. */
export function groupsToSay(choices: ReadonlyMap<string, ColumnChoice>): NumbersToSay {
  const { unsaid, twice } = numbersToSay(choices, "cell-voltage");
  const isAlone = [...choices.values()].filter(({ quantity }) => quantity === "cell-voltage").length === 1;
  return { unsaid: isAlone ? [] : unsaid, twice };
}

/** What the answers leave open of the flags that have a column each: without its bit none says which flag it is. */
export function bitsToSay(choices: ReadonlyMap<string, ColumnChoice>): NumbersToSay {
  return numbersToSay(choices, "protection-bit");
}

function numbersToSay(choices: ReadonlyMap<string, ColumnChoice>, of: ColumnChoice["quantity"]): NumbersToSay {
  const ofKind = [...choices].filter(([, { quantity }]) => quantity === of);
  const numbers = ofKind.flatMap(([, { number }]) => (number === null ? [] : [number]));
  const twice = numbers.filter((number, at) => numbers.indexOf(number) !== at);
  return {
    unsaid: ofKind.flatMap(([key, { number }]) => (number === null ? [key] : [])),
    twice: [...new Set(twice)].sort((a, b) => a - b),
  };
}
