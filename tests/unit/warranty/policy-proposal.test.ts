import { expect, test } from "vitest";
import { startEvidences } from "@/lib/warranty/policy.schema";
import { policyProposalSchema, sayEvidenceOrder } from "@/lib/warranty/policy-proposal.schema";

const typed = (over: Record<string, string>) => ({
  version: "2027-01",
  validFrom: "2027-01-01",
  months: "24",
  graceDays: "0",
  leapDay: "february-28",
  stockAgeCapMonths: "",
  replacementRule: "remainder",
  minimumDays: "0",
  minimumMonths: "0",
  weekendEnd: "as-it-falls",
  clockStop: "never",
  evidenceGapDays: "14",
  why: "The order changes.",
  ...over,
});
const read = (evidenceOrder: string) => policyProposalSchema.safeParse(typed({ evidenceOrder }));
const problemsOf = (evidenceOrder: string) =>
  read(evidenceOrder).error?.issues.map(({ path, message }) => `${path.join(".")}: ${message}`);

test("an order of evidence is proposed in words, a kind a line, and read back as it was typed", () => {
  const order = [...startEvidences].reverse();
  expect(read(`\n ${sayEvidenceOrder(order).toUpperCase().replaceAll("\n", " \r\n")}\n`).data?.evidenceOrder).toEqual(
    order,
  );
});

test("a kind that is missing, named twice or unknown is refused in words, and a missing order is never made up", () => {
  const [first = "", ...others] = sayEvidenceOrder(startEvidences).split("\n");
  expect(problemsOf(others.join("\n"))).toEqual([
    "evidenceOrder: evidenceOrder: every kind of evidence once, best first.",
  ]);
  expect(problemsOf([first, first, ...others].join("\n"))).toHaveLength(1);
  expect(problemsOf(["a rumour", ...others].join("\n"))).toEqual([
    "evidenceOrder: “a rumour” is none of the kinds: move the lines, leave their words.",
  ]);
  expect(policyProposalSchema.safeParse(typed({})).error?.issues.map(({ path }) => path)).toEqual([["evidenceOrder"]]);
});
