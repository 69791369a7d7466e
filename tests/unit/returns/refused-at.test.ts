import { expect, test } from "vitest";
import { caseMoves } from "@/lib/returns/case-moves";
import { decidableRemedies } from "@/lib/returns/decision.schema";
import { moveNames } from "@/lib/returns/move-names";
import { moveRefusals } from "@/lib/returns/move-refusal";
import { refusedAt } from "@/lib/returns/refused-at";
import { nothingKnown } from "@/lib/returns/return-facts";
import { fieldsOf } from "@/lib/returns/step-fields";
import { trackRefusedAt } from "@/lib/returns/track-step";

/** Asked elsewhere: a proof of sale on the page of cover. */
const askedElsewhere = ["provenSoldOn"];

function askedByAnyMove(): Set<string> {
  const asked = moveNames.flatMap((name) =>
    [null, ...decidableRemedies].flatMap((remedy) => fieldsOf(name, nothingKnown, remedy).map(({ key }) => key)),
  );
  const reasons = moveNames.filter((name) => caseMoves[name].needsReason).map(() => "reason");
  return new Set([...asked, ...reasons, ...askedElsewhere]);
}

test("a refusal about an answer stands at a question that some form of a move asks", () => {
  const asked = askedByAnyMove();
  const named = Object.keys(moveRefusals).flatMap((reason) => refusedAt("ask", reason) ?? []);
  expect(named.length).toBeGreaterThan(15);
  for (const question of named) expect(asked, question).toContain(question);
});

test("whatever a form of a move asks can be refused at that question", () => {
  const named = new Set([
    ...Object.keys(moveRefusals).flatMap((reason) => refusedAt("ask", reason) ?? []),
    ...moveNames.flatMap((name) => refusedAt(name, "unit-unknown") ?? []),
    // By its schema alone: a choice from a list.
    "confirmedFault",
  ]);
  for (const question of askedByAnyMove()) expect(named, question).toContain(question);
});

test("what the return forbids as it stands is about no question", () => {
  expect(refusedAt("merge", "someone-changed-this")).toBeNull();
  expect(refusedAt("merge", "not-found")).toBeNull();
  expect(refusedAt("object", "too-late")).toBeNull();
  expect(trackRefusedAt("on-hold")).toBeNull();
});

test("what is named to be looked up is refused at its name", () => {
  expect(refusedAt("start-work", "would-close-a-loop")).toBe("reservedSerial");
  expect(refusedAt("start-work", "is-not-in-store")).toBe("reservedSerial");
  expect(refusedAt("merge", "duplicate-ended")).toBe("duplicateOf");
  expect(trackRefusedAt("scan-other-pack")).toBe("scanned");
});
