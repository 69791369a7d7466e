import type { CalendarDate } from "./calendar";
import { type Cover, coverOf, type SettlementWindow } from "./cover";
import { coverFactsSchema } from "./cover-facts.schema";
import { COVER_RULES_VERSION, countingRulesInForce, countingRulesOf } from "./cover-rules";
import type { WarrantyPolicy } from "./policy.schema";

/** An answer as it was given and kept. */
export interface KeptAnswer {
  readonly outcome: string;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly evidence: string | null;
  /** The window between maker and dealer alone; null where it is the customer's. Undefined where it was not kept. */
  readonly settlement?: Pick<SettlementWindow, "startsOn" | "endsOn"> | null | undefined;
  /** Last day of grace; undefined where nothing tells it. */
  readonly graceEndsOn?: CalendarDate | null | undefined;
  readonly policyVersion: string;
  /** Version of the counting rules it was given under; null where it was not kept. */
  readonly rulesVersion: string | null;
  /** What it was drawn from, as stored; null where it was not kept. */
  readonly facts: unknown;
}

export interface Difference {
  readonly what:
    | "outcome"
    | "startsOn"
    | "endsOn"
    | "graceEndsOn"
    | "evidence"
    | "settlementStartsOn"
    | "settlementEndsOn"
    | "legalRow"
    | "legalEndsOn";
  readonly before: string | null;
  readonly after: string | null;
}

export type Replay =
  | {
      readonly kind: "replayed";
      readonly cover: Cover;
      readonly differences: readonly Difference[];
      /** True where it was not given again by the very counting rules of its day, which may explain a difference. */
      readonly rulesChanged: boolean;
    }
  | { readonly kind: "inputs-not-kept" };

/**
 * Gives a kept answer again from its kept facts under a policy, and lists what comes out differently. By the counting rules of its
 * day where the policy alone is to be compared, by those in force where somebody asks what would be said today.
 */
export function replay(kept: KeptAnswer, policy: WarrantyPolicy, counting: "of-its-day" | "of-today"): Replay {
  const facts = coverFactsSchema.safeParse(kept.facts);
  if (!facts.success) return { kind: "inputs-not-kept" };
  const ofItsDay = countingRulesOf(kept.rulesVersion);
  const cover = coverOf(facts.data, policy, counting === "of-its-day" ? ofItsDay.rules : countingRulesInForce);
  const pairs: Difference[] = [
    { what: "outcome", before: kept.outcome, after: cover.outcome },
    { what: "startsOn", before: kept.startsOn, after: cover.startsOn },
    { what: "endsOn", before: kept.endsOn, after: cover.endsOn },
    ...(kept.graceEndsOn === undefined
      ? []
      : [{ what: "graceEndsOn" as const, before: kept.graceEndsOn, after: graceOf(cover) }]),
    { what: "evidence", before: kept.evidence, after: cover.evidence },
    ...settlementPairs(kept.settlement, cover.settlement),
  ];
  return {
    kind: "replayed",
    cover,
    differences: pairs.filter(({ before, after }) => before !== after),
    rulesChanged: counting === "of-its-day" ? !ofItsDay.isExact : kept.rulesVersion !== COVER_RULES_VERSION,
  };
}

/** The last day of grace of an answer; null where it has none. */
export function graceOf(cover: Cover): CalendarDate | null {
  return cover.outcome === "cannot-tell-yet" ? null : cover.graceEndsOn;
}

function settlementPairs(before: KeptAnswer["settlement"], after: SettlementWindow | null): Difference[] {
  if (before === undefined) return [];
  return [
    { what: "settlementStartsOn", before: before?.startsOn ?? null, after: after?.startsOn ?? null },
    { what: "settlementEndsOn", before: before?.endsOn ?? null, after: after?.endsOn ?? null },
  ];
}

export interface ShadowRun {
  /** Past answers whose facts are kept. */
  readonly answers: number;
  readonly withoutFacts: number;
  readonly outcomeChanged: number;
  /** Same outcome, another last day. */
  readonly onlyEndChanged: number;
  /** Same outcome and last day, but another end of grace or another window between maker and dealer. */
  readonly onlyRestChanged: number;
  /** How many went from one outcome to another, most first. */
  readonly moves: readonly { readonly from: string; readonly to: string; readonly answers: number }[];
}

/** What a proposed policy would have answered to every past complaint, had it been in force: it changes none of them. */
export function shadowRun(kept: readonly KeptAnswer[], proposed: WarrantyPolicy): ShadowRun {
  let answers = 0;
  let onlyEndChanged = 0;
  let onlyRestChanged = 0;
  const moves = new Map<string, { from: string; to: string; answers: number }>();
  for (const answer of kept) {
    const again = replay(answer, proposed, "of-its-day");
    if (again.kind === "inputs-not-kept") continue;
    answers += 1;
    const to = again.cover.outcome;
    if (to === answer.outcome) {
      const changed = new Set<string>(again.differences.map(({ what }) => what));
      const isRest = ["graceEndsOn", "settlementStartsOn", "settlementEndsOn"].some((what) => changed.has(what));
      if (changed.has("endsOn")) onlyEndChanged += 1;
      else if (isRest) onlyRestChanged += 1;
      continue;
    }
    const key = `${answer.outcome} ${to}`;
    const move = moves.get(key) ?? { from: answer.outcome, to, answers: 0 };
    moves.set(key, { ...move, answers: move.answers + 1 });
  }
  const sorted = [...moves.values()].sort((one, other) => other.answers - one.answers);
  return {
    answers,
    withoutFacts: kept.length - answers,
    outcomeChanged: sorted.reduce((sum, move) => sum + move.answers, 0),
    onlyEndChanged,
    onlyRestChanged,
    moves: sorted,
  };
}

/** "would change 3 of 120 past answers", with the count of those that cannot be asked again. */
export function shadowSentence({
  answers,
  withoutFacts,
  outcomeChanged,
  onlyEndChanged,
  onlyRestChanged,
}: ShadowRun): string {
  if (answers === 0) return "No past answer has its facts kept, so nothing can be compared yet.";
  const changed = `Had it been in force, this version would have changed ${outcomeChanged} of the ${answers} past answers`;
  const ends = onlyEndChanged === 0 ? "" : `, and moved the last day of ${onlyEndChanged} more`;
  const rest =
    onlyRestChanged === 0
      ? ""
      : `, and moved the end of grace or the days between maker and dealer of ${onlyRestChanged} more`;
  const without = withoutFacts === 0 ? "" : ` ${withoutFacts} older answers have no facts kept and were not compared.`;
  return `${changed}${ends}${rest}. Past answers stay as they were given.${without}`;
}
