import { z } from "zod";
import { instrumentKinds, instrumentUnits } from "./instrument-kinds";

/**
 * From what changes nothing to what leaves nothing: looking, readings before any load, then load, then what shakes or
 * heats, then what destroys. Standard tests come before tests under load (the order of the VDA volume on field failure
 * analysis, from memory: verify there); the single steps are common practice, no source.
 */
export const testPhases = ["look", "insulation", "at-rest", "light-load", "under-load", "stress", "opening"] as const;
export type TestPhase = (typeof testPhases)[number];

export const testPhaseWords: Readonly<Record<TestPhase, string>> = {
  look: "Look and photograph",
  insulation: "Insulation, before any load",
  "at-rest": "At rest, before any load",
  "light-load": "Charge, and short light load",
  "under-load": "Under full load",
  stress: "Shaken, warm, cold or wet",
  opening: "Opened: nothing comes back",
};

/** Tests that find what is known to fail; those from here on look for what shows under load only. */
export function isLoadTest(phase: TestPhase): boolean {
  return testPhases.indexOf(phase) >= testPhases.indexOf("under-load");
}

/** Where a limit comes from. A limit without a source is no limit. */
export const limitSources = ["build-limit", "model-data", "common-practice"] as const;
export const limitSourceWords: Readonly<Record<(typeof limitSources)[number], string>> = {
  "build-limit": "Limit of a new build",
  "model-data": "Data of the pack model",
  "common-practice": "Common practice, no source",
};

const limitsSchema = z
  .object({
    lower: z.number().nullable(),
    upper: z.number().nullable(),
    source: z.enum(limitSources, "Say where the limit comes from."),
    /** Which drawing, which figure of the model, or why this number. */
    sourceNote: z.string().trim().min(3, "Say where the limit comes from, in words.").max(300),
  })
  .refine(({ lower, upper }) => lower !== null || upper !== null, { message: "Give a lower or an upper limit." })
  .refine(({ lower, upper }) => lower === null || upper === null || lower <= upper, {
    message: "The lower limit lies above the upper one.",
  });
export type TestLimits = z.output<typeof limitsSchema>;

const looked = z.object({
  kind: z.literal("look"),
  /** What a sound pack looks like, as one sentence. */
  expected: z.string().trim().min(5).max(300),
});

const measured = z.object({
  kind: z.literal("number"),
  instrument: z.enum(instrumentKinds),
  unit: z.string().min(1).max(12),
  /** By which a returned pack is judged. */
  limits: limitsSchema,
  /** By which the same test is judged after work on the pack; null where the test is no part of the re-test. */
  buildLimits: limitsSchema.nullable(),
});

/** One test of a plan. */
export const testDefinitionSchema = z
  .object({
    /** Stays the same over all versions, so that results and limits can be followed. */
    key: z.string().regex(/^[a-z0-9-]{2,40}$/, "A short name in small letters, such as rest-spread."),
    title: z.string().trim().min(3, "Name the test.").max(80),
    phase: z.enum(testPhases),
    shows: z.string().trim().min(5, "Say what the test shows.").max(300),
    method: z.string().trim().min(10, "Say how it is done, in plain words.").max(1200),
    caution: z.string().trim().max(600),
    isMandatory: z.boolean(),
    isDestructive: z.boolean(),
    reading: z.discriminatedUnion("kind", [looked, measured]),
    /** Also part of the re-test after work on the pack; a measured one needs its build limits then. */
    isRetest: z.boolean(),
    /** Beginnings of the names of measurements of a readings file to show beside it. */
    beside: z.array(z.string().min(2).max(60)).max(6),
  })
  .refine(({ reading }) => reading.kind === "look" || reading.unit === instrumentUnits[reading.instrument], {
    path: ["reading"],
    message: "The unit is not the one the instrument gives.",
  })
  .refine(({ isDestructive, phase }) => isDestructive === (phase === "opening"), {
    path: ["isDestructive"],
    message: "What destroys belongs to the last phase, and nothing else does.",
  })
  .refine(({ isDestructive, isMandatory }) => !(isDestructive && isMandatory), {
    path: ["isMandatory"],
    message: "Nobody is made to destroy a pack: a destructive test is never mandatory.",
  })
  .refine(({ isRetest, isDestructive }) => !(isRetest && isDestructive), {
    path: ["isRetest"],
    message: "What destroys a pack cannot release it.",
  })
  .refine(({ isRetest, reading }) => reading.kind === "look" || isRetest === (reading.buildLimits !== null), {
    path: ["reading"],
    message: "A measured test of the re-test has limits of a new build, and no other has.",
  });
export type TestDefinition = z.output<typeof testDefinitionSchema>;

/** The tests of a plan: each once, and in the order that saves evidence. */
export const testListSchema = z
  .array(testDefinitionSchema)
  .min(1, "A plan holds at least one test.")
  .max(60)
  .refine((tests) => new Set(tests.map(({ key }) => key)).size === tests.length, {
    message: "Two tests have the same short name.",
  })
  .refine((tests) => tests.every(({ phase }, index) => orderOf(phase) >= orderOf(tests[index - 1]?.phase ?? "look")), {
    message: "The order would lose evidence: looking comes first, then readings before any load, what destroys last.",
  });

function orderOf(phase: TestPhase): number {
  return testPhases.indexOf(phase);
}

/** The limits a result is judged by: of a returned pack, or of a new build after work. Null for a look. */
export function limitsFor({ reading }: TestDefinition, purpose: TestPurpose): TestLimits | null {
  if (reading.kind === "look") return null;
  return purpose === "finding" ? reading.limits : reading.buildLimits;
}

/** To find the fault of a returned pack, or to release it after work. */
export const testPurposes = ["finding", "retest"] as const;
export type TestPurpose = (typeof testPurposes)[number];
