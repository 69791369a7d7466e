import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { isFilled, newTestSlots, readNewTest, withNewTests } from "./new-test";
import type { ProposalProblem } from "./proposal-problem";
import { limitSources, type TestDefinition, type TestLimits, testListSchema } from "./test-definition.schema";

/** What is asked for a proposal besides its tests. */
export const planProposalSchema = z.object({
  /** Code of the model, or of the revision, whose packs are tested by it. */
  scope: z.string().regex(/^[A-Za-z0-9][A-Za-z0-9.-]{0,19}$/, "Choose a model or a revision."),
  /** Version the proposal was written on; 0 where there is none yet. */
  onVersion: z.coerce.number().int().min(0).max(100_000),
  why: whyProposed,
});
export type PlanProposal = z.output<typeof planProposalSchema>;

export type ProposedTests =
  | { readonly kind: "tests"; readonly tests: readonly TestDefinition[] }
  | { readonly kind: "problems"; readonly problems: readonly ProposalProblem[] };

/** Name of a field of one test on the form. */
export function planField(key: string, part: string): string {
  return `${key}.${part}`;
}

/**
 * Reads the tests of a proposal from its form, which shows every test of the version it was written on: what is left
 * out, what is mandatory, method, caution and limits. Everything else of a test stays as it was; wholly new ones are put
 * in; a number that is none is named at its field.
 */
export function readProposedTests(
  base: readonly TestDefinition[],
  typed: Readonly<Record<string, unknown>>,
): ProposedTests {
  const problems: ProposalProblem[] = [];
  const tests = base.flatMap((test) => {
    const said = (part: string) => {
      const value = typed[planField(test.key, part)];
      return typeof value === "string" ? value.trim() : null;
    };
    if (said("leave-out") !== null) return [];
    const limits = (part: "limits" | "buildLimits", before: TestLimits) =>
      readLimits(test.key, part, before, said, problems);
    const { reading } = test;
    return [
      {
        ...test,
        isMandatory: test.isDestructive ? false : said("mandatory") !== null,
        method: said("method") ?? test.method,
        caution: said("caution") ?? test.caution,
        reading:
          reading.kind === "look"
            ? reading
            : {
                ...reading,
                limits: limits("limits", reading.limits),
                buildLimits: reading.buildLimits === null ? null : limits("buildLimits", reading.buildLimits),
              },
      },
    ];
  });
  const taken = base.map(({ key }) => key);
  const added = newTestSlots.flatMap((slot) => {
    const one = isFilled(slot, typed) ? readNewTest(slot, typed, taken, problems) : null;
    if (one === null) return [];
    taken.push(one.test.key);
    return [one];
  });
  if (problems.length > 0) return { kind: "problems", problems };
  const all = withNewTests(tests, added);
  const read = testListSchema.safeParse(all);
  if (read.success) return { kind: "tests", tests: read.data };
  const [newest] = added;
  return {
    kind: "problems",
    problems: read.error.issues.map(({ path, message }) => ({
      // A rule over the whole list: what was put in is what broke it.
      field: path.length === 0 && newest !== undefined ? `${newest.slot}.after` : fieldOf(all, path),
      sentence: message,
    })),
  };
}

function readLimits(
  key: string,
  part: "limits" | "buildLimits",
  before: TestLimits,
  said: (part: string) => string | null,
  problems: ProposalProblem[],
): TestLimits {
  const number = (side: "lower" | "upper") => {
    const text = said(`${part}.${side}`);
    if (text === null) return before[side];
    if (text === "") return null;
    const plain = text.replace(",", ".");
    if (/^-?[0-9]{1,7}([.][0-9]{1,6})?$/.test(plain)) return Number(plain);
    problems.push({
      field: planField(key, `${part}.${side}`),
      sentence: "Write the limit as a number, or leave it empty.",
    });
    return before[side];
  };
  const source = limitSources.find((known) => known === said(`${part}.source`)) ?? before.source;
  return {
    lower: number("lower"),
    upper: number("upper"),
    source,
    sourceNote: said(`${part}.sourceNote`) ?? before.sourceNote,
  };
}

function fieldOf(tests: readonly TestDefinition[], path: readonly PropertyKey[]): string {
  const [index, ...rest] = path;
  const test = typeof index === "number" ? tests[index] : undefined;
  if (test === undefined) return "why";
  const part = rest.filter((step) => step !== "reading").join(".");
  // A rule over both limits is shown at the lower one.
  return planField(test.key, part === "limits" || part === "buildLimits" ? `${part}.lower` : part);
}
