import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { canonicalHistoryText } from "@/lib/returns/history-entry";
import {
  FIRST_PREVIOUS_HASH,
  type StoredHistoryRow,
  verifyHistory,
  whyItStandsElsewhere,
} from "@/lib/returns/verify-history";

const sha256 = (text: string) => createHash("sha256").update(text, "utf8").digest("hex");

function chain(...statuses: string[]): StoredHistoryRow[] {
  const rows: StoredHistoryRow[] = [];
  for (const [index, to] of statuses.entries()) {
    const before = rows.at(-1);
    const previousHash = before?.hash ?? FIRST_PREVIOUS_HASH;
    const entry = {
      returnId: "r1",
      sequence: index + 1,
      at: "2026-03-15T23:40:00.000Z",
      actorUserId: "u1",
      actorName: "A. Bench",
      actorRole: "technician",
      from: before?.to ?? null,
      to,
      reason: "Because.",
      dataVersion: index + 1,
      ruleVersion: "returns-1",
      move: "take",
      atLocal: "2026-03-16T00:40:00.000+01:00",
      facts: { stated: {} },
    };
    const form = index === 0 ? ("return-history-1" as const) : ("return-history-2" as const);
    rows.push({ ...entry, form, previousHash, hash: sha256(canonicalHistoryText(previousHash, entry, form)) });
  }
  return rows;
}

const rows = chain("sent-in", "in-review", "decision-proposed", "decided");
const last = rows.at(-1)?.hash ?? "";
const check = (changed: readonly StoredHistoryRow[], expected: string | null = last) =>
  verifyHistory(changed, sha256, expected);
const with_ = (index: number, over: Partial<StoredHistoryRow>) =>
  rows.map((row, at) => (at === index ? { ...row, ...over } : row));

test("a whole chain is sound, over rows of both forms, and an empty one where nothing is expected", () => {
  expect(check(rows)).toEqual({ kind: "sound", rows: 4, lastHash: last });
  expect(verifyHistory([], sha256, null)).toMatchObject({ kind: "sound", rows: 0 });
});

test("every kind of tampering is found at its row", () => {
  expect(check(with_(1, { reason: "Another reason." }))).toMatchObject({ kind: "broken", sequence: 2 });
  expect(check(with_(2, { facts: { stated: { tests: "done" } } }))).toMatchObject({ sequence: 3 });
  expect(check(with_(1, { actorName: "Somebody else" }))).toMatchObject({ sequence: 2 });
  expect(check(rows.filter((_, index) => index !== 1))).toMatchObject({ sequence: 3 });
  expect(check(rows.slice(1))).toMatchObject({ sequence: 2 });
  expect(check(rows.slice(0, -1))).toMatchObject({ sequence: 4 });
  expect(check([...rows].reverse())).toMatchObject({ kind: "broken" });
});

test("a row written anew with a fitting hash is still found by the one after it", () => {
  const [, second] = rows;
  if (second === undefined) throw new Error("no second row");
  const forged = { ...second, reason: "Forged." };
  const hash = sha256(canonicalHistoryText(forged.previousHash, forged, forged.form));
  expect(check(with_(1, { reason: "Forged.", hash }))).toMatchObject({ kind: "broken", sequence: 3 });
});

test("what stands elsewhere than its last row says is found, and so are rows that are gone altogether", () => {
  const end = rows.at(-1) ?? null;
  const stands = { state: "decided", version: 4, lastHash: last };
  expect(whyItStandsElsewhere(end, stands)).toBeNull();
  expect(whyItStandsElsewhere(end, { ...stands, state: "closed" })).toMatch(/elsewhere/);
  expect(whyItStandsElsewhere(end, { ...stands, version: 5 })).toMatch(/version/);
  expect(whyItStandsElsewhere(end, { ...stands, lastHash: null })).toMatch(/mark/);
  expect(whyItStandsElsewhere(null, { ...stands, lastHash: null })).toMatch(/rows are gone/);
  // A track that was opened and has not moved.
  expect(whyItStandsElsewhere(null, { state: "normal", version: 0, lastHash: null })).toBeNull();
});
