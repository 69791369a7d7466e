import fc from "fast-check";
import { expect, test } from "vitest";
import { canonicalHistoryText, type HistoryEntry } from "@/lib/returns/history-entry";

const entry: HistoryEntry = {
  returnId: "r1",
  sequence: 2,
  at: "2026-03-15T23:40:00.000Z",
  actorUserId: "u1",
  actorName: "A. Bench",
  actorRole: "service",
  from: "sent-in",
  to: "in-review",
  reason: "",
  dataVersion: 2,
  ruleVersion: null,
};

// The form is pinned: a change of it would break the chain of every row already stored.
test("the text of a row is a JSON array in a fixed order, under the name of its form", () => {
  expect(canonicalHistoryText("00", entry)).toBe(
    '["return-history-1","00","r1",2,"2026-03-15T23:40:00.000Z","u1","A. Bench","service","sent-in","in-review","",2,null]',
  );
});

test("the order of the fields in the row does not matter, and further fields do not enter", () => {
  const { returnId, sequence, ...rest } = entry;
  const wider = { id: "x", ...rest, sequence, returnId };
  expect(canonicalHistoryText("00", wider)).toBe(canonicalHistoryText("00", entry));
});

test("any change of any text gives another text, even where the joined fields read the same", () => {
  const texts = fc.record({
    previous: fc.string(),
    actorName: fc.string(),
    reason: fc.string(),
    ruleVersion: fc.option(fc.string()),
  });
  const write = ({
    previous,
    ...fields
  }: {
    previous: string;
    actorName: string;
    reason: string;
    ruleVersion: string | null;
  }) => canonicalHistoryText(previous, { ...entry, ...fields });
  fc.assert(
    fc.property(texts, texts, (one, other) => {
      expect(write(one) === write(other)).toBe(JSON.stringify(one) === JSON.stringify(other));
    }),
  );
  expect(canonicalHistoryText("00", { ...entry, actorName: "ab", actorRole: "c" })).not.toBe(
    canonicalHistoryText("00", { ...entry, actorName: "a", actorRole: "bc" }),
  );
  expect(canonicalHistoryText("00", { ...entry, ruleVersion: "null" })).not.toBe(canonicalHistoryText("00", entry));
});

test("an instant written in another way is refused: the same row would hash differently", () => {
  for (const at of ["2026-03-15T23:40:00Z", "2026-03-16T00:40:00.000+01:00", "2026-03-15"]) {
    expect(() => canonicalHistoryText("00", { ...entry, at }), at).toThrow(RangeError);
  }
});
