import { instrumentKinds, instrumentUnits } from "./instrument-kinds";
import type { ProposalProblem } from "./proposal-problem";
import {
  limitSources,
  type TestDefinition,
  type TestLimits,
  testDefinitionSchema,
  testPhases,
} from "./test-definition.schema";

/** Places for wholly new tests on the form of a proposal. More at once nobody would read before approving. */
export const newTestSlots = ["new.1", "new.2", "new.3"] as const;
export type NewTestSlot = (typeof newTestSlots)[number];

export interface NewTest {
  readonly slot: NewTestSlot;
  readonly test: TestDefinition;
  /** Key of the test it comes right after; null: it is the last of its kind. */
  readonly after: string | null;
}

type Typed = Readonly<Record<string, unknown>>;

/** Whether anybody wrote anything for a new test in this place. */
export function isFilled(slot: NewTestSlot, typed: Typed): boolean {
  return ["title", "shows", "method", "expected", "limits.lower", "limits.upper"].some(
    (part) => typeof typed[`${slot}.${part}`] === "string" && String(typed[`${slot}.${part}`]).trim() !== "",
  );
}

/**
 * Reads a wholly new test as it was typed. Its short name is made from its title and stays over all versions. What is
 * measured has the unit of its instrument; what is opened destroys and is never mandatory; whoever touches live parts is
 * warned. What is missing or wrong is added to `problems` at its field.
 */
export function readNewTest(
  slot: NewTestSlot,
  typed: Typed,
  takenKeys: readonly string[],
  problems: ProposalProblem[],
): NewTest | null {
  const said = (part: string) => {
    const value = typed[`${slot}.${part}`];
    return typeof value === "string" ? value.trim() : "";
  };
  const at = (part: string, sentence: string) => problems.push({ field: `${slot}.${part}`, sentence });
  const before = problems.length;
  const phase = testPhases.find((known) => known === said("phase"));
  if (phase === undefined) at("phase", "Choose when it is made: before any load, under load, or last.");
  const instrument = instrumentKinds.find((known) => known === said("instrument"));
  const isRetest = said("retest") !== "";
  const limits = (part: "limits" | "buildLimits"): TestLimits => {
    const number = (side: "lower" | "upper") => {
      const text = said(`${part}.${side}`).replace(",", ".");
      if (text === "") return null;
      if (/^-?[0-9]{1,7}([.][0-9]{1,6})?$/.test(text)) return Number(text);
      at(`${part}.${side}`, "Write the limit as a number, or leave it empty.");
      return null;
    };
    const source = limitSources.find((known) => known === said(`${part}.source`)) ?? "common-practice";
    return { lower: number("lower"), upper: number("upper"), source, sourceNote: said(`${part}.sourceNote`) };
  };
  if (phase !== undefined && phase !== "look" && said("caution").length < LEAST_CAUTION)
    at("caution", "Write what can hurt somebody at this test and how it is kept from happening.");
  const isDestructive = phase === "opening";
  const read = testDefinitionSchema.safeParse({
    key: keyFor(said("title"), takenKeys),
    title: said("title"),
    phase: phase ?? "look",
    shows: said("shows"),
    method: said("method"),
    caution: said("caution"),
    isMandatory: said("mandatory") !== "",
    isDestructive,
    isRetest,
    beside: [],
    reading:
      instrument === undefined
        ? { kind: "look", expected: said("expected") }
        : {
            kind: "number",
            instrument,
            unit: instrumentUnits[instrument],
            limits: limits("limits"),
            buildLimits: isRetest ? limits("buildLimits") : null,
          },
  });
  if (!read.success)
    for (const { path, message } of read.error.issues) at(fieldOf(path), sentenceFor(fieldOf(path), message));
  if (!read.success || problems.length > before) return null;
  return { slot, test: read.data, after: said("after") === "" ? null : said("after") };
}

/** Characters; fewer warn of nothing. */
const LEAST_CAUTION = 10;
const LONGEST_KEY = 36;

/** The tests with the new ones in their places: right after the one named, else last of their kind. */
export function withNewTests(tests: readonly TestDefinition[], added: readonly NewTest[]): TestDefinition[] {
  return added.reduce<TestDefinition[]>(
    (all, { test, after }) => {
      const named = all.findIndex(({ key }) => key === after);
      const order = testPhases.indexOf(test.phase);
      const later = all.findIndex(({ phase }) => testPhases.indexOf(phase) > order);
      const place = named >= 0 ? named + 1 : later >= 0 ? later : all.length;
      return [...all.slice(0, place), test, ...all.slice(place)];
    },
    [...tests],
  );
}

function keyFor(title: string, taken: readonly string[]): string {
  const plain = title
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-|-$/g, "")
    .slice(0, LONGEST_KEY);
  const key = plain.length < 2 ? "test" : plain;
  let number = 2;
  let free = key;
  while (taken.includes(free)) free = `${key}-${number++}`;
  return free;
}

function fieldOf(path: readonly PropertyKey[]): string {
  const part = path.filter((step) => step !== "reading").join(".");
  if (part === "limits" || part === "buildLimits") return `${part}.lower`;
  if (part === "key") return "title";
  if (part === "isDestructive" || part === "isMandatory") return "mandatory";
  return part === "" || part === "isRetest" ? "retest" : part;
}

function sentenceFor(field: string, message: string): string {
  return field === "expected" ? "Say what a sound pack looks like, or choose an instrument." : message;
}
