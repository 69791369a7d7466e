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
  move: null,
  atLocal: null,
  facts: null,
};

const canonical = (previous: string, row: HistoryEntry) => canonicalHistoryText(previous, row, "return-history-1");

// The form is pinned: a change of it would break the chain of every row already stored.
test("the text of a row is a JSON array in a fixed order, under the name of its form", () => {
  expect(canonical("00", entry)).toBe(
    '["return-history-1","00","r1",2,"2026-03-15T23:40:00.000Z","u1","A. Bench","service","sent-in","in-review","",2,null]',
  );
});

test("the order of the fields in the row does not matter, and further fields do not enter", () => {
  const { returnId, sequence, ...rest } = entry;
  const wider = { id: "x", ...rest, sequence, returnId };
  expect(canonical("00", wider)).toBe(canonical("00", entry));
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
  }) => canonical(previous, { ...entry, ...fields });
  fc.assert(
    fc.property(texts, texts, (one, other) => {
      expect(write(one) === write(other)).toBe(JSON.stringify(one) === JSON.stringify(other));
    }),
  );
  expect(canonical("00", { ...entry, actorName: "ab", actorRole: "c" })).not.toBe(
    canonical("00", { ...entry, actorName: "a", actorRole: "bc" }),
  );
  expect(canonical("00", { ...entry, ruleVersion: "null" })).not.toBe(canonical("00", entry));
});

test("an instant written in another way is refused: the same row would hash differently", () => {
  for (const at of ["2026-03-15T23:40:00Z", "2026-03-16T00:40:00.000+01:00", "2026-03-15"]) {
    expect(() => canonical("00", { ...entry, at }), at).toThrow(RangeError);
  }
});

const second: HistoryEntry = {
  ...entry,
  move: "ask",
  atLocal: "2026-03-16T00:40:00.000+01:00",
  facts: { stated: { dueOn: "2026-03-20" }, decision: null },
};

test("the second form adds the move, the local time and the facts with sorted keys", () => {
  expect(canonicalHistoryText("00", second, "return-history-2")).toBe(
    '["return-history-2","00","r1",2,"2026-03-15T23:40:00.000Z","u1","A. Bench","service","sent-in","in-review","",2,null,' +
      '"ask","2026-03-16T00:40:00.000+01:00",[["decision",null],["stated",[["dueOn","2026-03-20"]]]]]',
  );
});

test("a database that gives an object back in another order changes nothing, another value does", () => {
  const text = (facts: unknown) => canonicalHistoryText("00", { ...second, facts }, "return-history-2");
  expect(text({ b: 1, a: [{ d: 2, c: 3 }] })).toBe(text({ a: [{ c: 3, d: 2 }], b: 1 }));
  expect(text({ a: 1 })).not.toBe(text({ a: "1" }));
  expect(text({ a: undefined })).toBe(text({}));
});
