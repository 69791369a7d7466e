import type { CalendarDate } from "./calendar";
import { COVER_RULES_VERSION, type Cover, coverOf } from "./cover";
import { coverFactsSchema } from "./cover-facts.schema";
import type { WarrantyPolicy } from "./policy.schema";

/** An answer as it was given and kept. */
export interface KeptAnswer {
  readonly outcome: string;
  readonly startsOn: CalendarDate | null;
  readonly endsOn: CalendarDate | null;
  readonly evidence: string | null;
  readonly policyVersion: string;
  /** Version of the counting rules it was given under; null where it was not kept. */
  readonly rulesVersion: string | null;
  /** What it was drawn from, as stored; null where it was not kept. */
  readonly facts: unknown;
}

export interface Difference {
  readonly what: "outcome" | "startsOn" | "endsOn" | "evidence";
  readonly before: string | null;
  readonly after: string | null;
}

export type Replay =
  | {
      readonly kind: "replayed";
      readonly cover: Cover;
      readonly differences: readonly Difference[];
      /** True where the counting rules themselves have changed since, which may explain a difference. */
      readonly rulesChanged: boolean;
    }
  | { readonly kind: "inputs-not-kept" };

/** Gives a kept answer again from its kept facts under a policy, and lists what comes out differently. */
export function replay(kept: KeptAnswer, policy: WarrantyPolicy): Replay {
  const facts = coverFactsSchema.safeParse(kept.facts);
  if (!facts.success) return { kind: "inputs-not-kept" };
  const cover = coverOf(facts.data, policy);
  const pairs: Difference[] = [
    { what: "outcome", before: kept.outcome, after: cover.outcome },
    { what: "startsOn", before: kept.startsOn, after: cover.startsOn },
    { what: "endsOn", before: kept.endsOn, after: cover.endsOn },
    { what: "evidence", before: kept.evidence, after: cover.evidence },
  ];
  return {
    kind: "replayed",
    cover,
    differences: pairs.filter(({ before, after }) => before !== after),
    rulesChanged: kept.rulesVersion !== COVER_RULES_VERSION,
  };
}

export interface ShadowRun {
  /** Past answers whose facts are kept. */
  readonly answers: number;
  readonly withoutFacts: number;
  readonly outcomeChanged: number;
  /** Same outcome, another last day. */
  readonly onlyEndChanged: number;
  /** How many went from one outcome to another, most first. */
  readonly moves: readonly { readonly from: string; readonly to: string; readonly answers: number }[];
}

/** What a proposed policy would have answered to every past complaint, had it been in force: it changes none of them. */
export function shadowRun(kept: readonly KeptAnswer[], proposed: WarrantyPolicy): ShadowRun {
  let answers = 0;
  let onlyEndChanged = 0;
  const moves = new Map<string, { from: string; to: string; answers: number }>();
  for (const answer of kept) {
    const again = replay(answer, proposed);
    if (again.kind === "inputs-not-kept") continue;
    answers += 1;
    const to = again.cover.outcome;
    if (to === answer.outcome) {
      onlyEndChanged += Number(again.differences.some(({ what }) => what === "endsOn"));
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
    moves: sorted,
  };
}

/** "would change 3 of 120 past answers", with the count of those that cannot be asked again. */
export function shadowSentence({ answers, withoutFacts, outcomeChanged, onlyEndChanged }: ShadowRun): string {
  if (answers === 0) return "No past answer has its facts kept, so nothing can be compared yet.";
  const changed = `Had it been in force, this version would have changed ${outcomeChanged} of the ${answers} past answers`;
  const ends = onlyEndChanged === 0 ? "" : `, and moved the last day of ${onlyEndChanged} more`;
  const without = withoutFacts === 0 ? "" : ` ${withoutFacts} older answers have no facts kept and were not compared.`;
  return `${changed}${ends}. Past answers stay as they were given.${without}`;
}
