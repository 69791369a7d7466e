import { expect, test } from "vitest";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { coverOf } from "@/lib/warranty/cover";
import type { CoverFacts } from "@/lib/warranty/cover-facts.schema";
import { COVER_RULES_VERSION, countingRulesOf } from "@/lib/warranty/cover-rules";
import { type WarrantyPolicy, warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import { graceOf, type KeptAnswer, replay, shadowRun, shadowSentence } from "@/lib/warranty/replay";

const policy = (over: Record<string, unknown> = {}): WarrantyPolicy =>
  warrantyPolicySchema.parse({ version: "old", validFrom: "2020-01-01", months: 24, ...over });

function kept(facts: CoverFacts, under = policy(), rulesVersion = COVER_RULES_VERSION): KeptAnswer {
  const cover = coverOf(facts, under, countingRulesOf(rulesVersion).rules);
  const { outcome, startsOn, endsOn, evidence, policyVersion, settlement } = cover;
  const stored: unknown = JSON.parse(JSON.stringify(facts));
  return {
    outcome,
    startsOn,
    endsOn,
    evidence,
    policyVersion,
    settlement,
    graceEndsOn: graceOf(cover),
    rulesVersion,
    facts: stored,
  };
}

const told = (toldOn: string): CoverFacts => ({ start: { deliveryReceiptOn: day("2024-03-15") }, toldOn: day(toldOn) });

test("under its own policy an answer comes out as it was given", () => {
  expect(replay(kept(told("2026-03-10")), policy(), "of-its-day")).toMatchObject({
    differences: [],
    rulesChanged: false,
  });
});

// Up to rules 6 a day stated without proof and the day on a proof contradicted each other; from 7 on the proof counts.
test("an answer under counting rules of the past comes out as it was given, and otherwise by those of today", () => {
  const facts: CoverFacts = {
    start: { provenOn: [day("2024-01-15")], statedOn: day("2024-06-15") },
    toldOn: day("2026-03-01"),
  };
  const then = kept(facts, policy(), "6");
  expect(then).toMatchObject({ outcome: "cannot-tell-yet", evidence: "delivery-receipt" });
  expect(replay(then, policy(), "of-its-day")).toMatchObject({ differences: [], rulesChanged: false });
  expect(replay(then, policy(), "of-today")).toMatchObject({
    differences: [
      { what: "outcome", before: "cannot-tell-yet", after: "outside-makers-guarantee" },
      { what: "endsOn", before: null, after: "2026-01-15" },
      { what: "graceEndsOn", before: null, after: "2026-01-15" },
    ],
    rulesChanged: true,
  });
  // What a proposal would change is not mixed up with what the counting rules changed since.
  expect(shadowRun([then], policy({ graceDays: 1 }))).toMatchObject({ answers: 1, outcomeChanged: 0 });
  expect(replay({ ...then, rulesVersion: "3" }, policy(), "of-its-day")).toMatchObject({ rulesChanged: true });
});

test("under another policy the differences are listed by name", () => {
  const answer = kept(told("2026-03-20"));
  expect(answer.outcome).toBe("outside-makers-guarantee");
  expect(replay(answer, policy({ months: 36 }), "of-today")).toMatchObject({
    differences: [
      { what: "outcome", before: "outside-makers-guarantee", after: "in-cover" },
      { what: "endsOn", before: "2026-03-15", after: "2027-03-15" },
      { what: "graceEndsOn", before: "2026-03-15", after: "2027-03-15" },
    ],
  });
});

test("a limit to the time on the shelf, or grace alone, is a difference too, in the list and in the sentence two people approve by", () => {
  const facts: CoverFacts = {
    start: { deliveryReceiptOn: day("2024-03-15"), dispatchedOn: day("2023-01-10") },
    toldOn: day("2025-03-10"),
  };
  const limited = policy({ stockAgeCapMonths: 6 });
  expect(replay(kept(facts), limited, "of-its-day")).toMatchObject({
    differences: [
      { what: "settlementStartsOn", before: null, after: "2023-07-10" },
      { what: "settlementEndsOn", before: null, after: "2025-07-10" },
    ],
  });
  expect(shadowRun([kept(facts)], limited)).toMatchObject({ outcomeChanged: 0, onlyEndChanged: 0, onlyRestChanged: 1 });
  expect(shadowSentence(shadowRun([kept(facts)], limited))).toMatch(/between maker and dealer of 1 more/);
  expect(replay(kept(facts), policy({ graceDays: 7 }), "of-its-day")).toMatchObject({
    differences: [{ what: "graceEndsOn", before: "2026-03-15", after: "2026-03-22" }],
  });
  // What was not kept is not compared.
  const { settlement: _, graceEndsOn: __, ...older } = kept(facts);
  expect(replay(older, limited, "of-its-day")).toMatchObject({ differences: [] });
});

test("an answer whose facts were not kept, or cannot be read, is not given again", () => {
  expect(replay({ ...kept(told("2026-03-10")), facts: null }, policy(), "of-its-day")).toEqual({
    kind: "inputs-not-kept",
  });
  expect(replay({ ...kept(told("2026-03-10")), facts: { start: 1 } }, policy(), "of-its-day")).toEqual({
    kind: "inputs-not-kept",
  });
});

test("the shadow run counts what a proposal would have changed, and what it could not ask", () => {
  const answers = [
    kept(told("2025-03-10")),
    kept(told("2026-03-16")),
    kept(told("2026-03-17")),
    { ...kept(told("2026-03-10")), facts: null },
  ];
  const run = shadowRun(answers, policy({ graceDays: 1 }));
  expect(run).toEqual({
    answers: 3,
    withoutFacts: 1,
    outcomeChanged: 1,
    onlyEndChanged: 0,
    onlyRestChanged: 2,
    moves: [{ from: "outside-makers-guarantee", to: "in-cover-by-grace", answers: 1 }],
  });
  expect(shadowSentence(run)).toBe(
    "Had it been in force, this version would have changed 1 of the 3 past answers, and moved the end of grace or the days between maker and dealer of 2 more. Past answers stay as they were given. 1 older answers have no facts kept and were not compared.",
  );
  expect(shadowRun(answers, policy({ months: 25 })).onlyEndChanged).toBe(1);
});
