import { type LodgeReturnInput, lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";

/** One question a page, in the order in which they matter: safety, identity, cover, story, evidence. */
const stepNames = ["danger", "serial", "sale", "dates", "words", "symptom", "conditions", "readings", "check"] as const;
export type StepName = (typeof stepNames)[number];

export type AnswerName = keyof LodgeReturnInput;

export const questions: Readonly<Record<StepName, string>> = {
  danger: "Is anything wrong with the pack that you can see, hear, smell or feel?",
  serial: "Which pack is it?",
  sale: "When did the customer get this pack?",
  dates: "When did the customer notice it, and when did they tell you?",
  words: "What does the customer say?",
  symptom: "What does the pack do?",
  conditions: "When does it happen?",
  readings: "Is there a readings file from the pack?",
  check: "Check your answers, then send",
};

const answersOf: Readonly<Record<StepName, readonly AnswerName[]>> = {
  danger: ["dangerSigns"],
  serial: ["serial", "replacedBecause"],
  sale: ["soldOnStated", "soldOnEvidence"],
  dates: ["toldOn", "noticedOn"],
  words: ["concern"],
  symptom: ["symptom"],
  conditions: ["conditions"],
  readings: ["readingFileId", "noFileReason"],
  check: [],
};

export function answersAskedAt(step: StepName): readonly AnswerName[] {
  return answersOf[step];
}

/** The step at which an answer is given; where none is, the page that shows everything. */
export function stepAsking(answer: string): StepName {
  return stepNames.find((step) => answersOf[step].some((asked) => asked === answer)) ?? "check";
}

/** What the way through the form depends on, besides the answers. */
export interface KnownPack {
  readonly serial: string;
  readonly saleKnown: boolean;
}

/** The steps this return has: the day of the sale is asked only where nobody recorded it. */
export function stepsFor(pack: KnownPack | null): StepName[] {
  return stepNames.filter((step) => step !== "sale" || !pack?.saleKnown);
}

/** The first step whose answers do not stand yet; "check" when all do. The pack must have been found, not only typed. */
export function firstOpenStep(answers: LodgeReturnInput, pack: KnownPack | null): StepName {
  const read = lodgeReturnSchema.safeParse(answers);
  const open = new Set(read.success ? [] : read.error.issues.map(({ path }) => stepAsking(String(path[0]))));
  if (pack === null) open.add("serial");
  return stepsFor(pack).find((step) => open.has(step)) ?? "check";
}

/** The step to show for the one asked for in the address: never beyond the first that is still open. */
export function reachableStep(asked: string | null, answers: LodgeReturnInput, pack: KnownPack | null): StepName {
  const steps = stepsFor(pack);
  const limit = steps.indexOf(firstOpenStep(answers, pack));
  const wanted = steps.find((step) => step === asked) ?? "danger";
  return steps[Math.min(Math.max(steps.indexOf(wanted), 0), limit)] ?? "danger";
}

export function stepAfter(step: StepName, pack: KnownPack | null): StepName {
  const steps = stepsFor(pack);
  return steps[steps.indexOf(step) + 1] ?? "check";
}

export function stepBefore(step: StepName, pack: KnownPack | null): StepName | null {
  const steps = stepsFor(pack);
  return steps[steps.indexOf(step) - 1] ?? null;
}
