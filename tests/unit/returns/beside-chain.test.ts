import { createHash } from "node:crypto";
import { expect, test } from "vitest";
import { type BesideChain, whatIsWrongBeside } from "@/lib/returns/beside-chain";
import { canonicalHistoryText, type HistoryEntry } from "@/lib/returns/history-entry";
import { FIRST_PREVIOUS_HASH } from "@/lib/returns/verify-history";

const sha256 = (text: string) => createHash("sha256").update(text, "utf8").digest("hex");
const form = "line-history-1";
const states = ["claimed", "checked", "approved", "in-statement"];

const entryAt = (index: number): HistoryEntry => ({
  returnId: "line-1",
  sequence: index + 1,
  at: "2026-10-05T09:00:00.000Z",
  actorUserId: "u1",
  actorName: "Finance",
  actorRole: "",
  from: states[index - 1] ?? null,
  to: states[index] ?? "",
  reason: "As billed.",
  dataVersion: index + 1,
  ruleVersion: null,
  move: null,
  atLocal: null,
  facts: null,
});

/** Four moves, the first `unchained` of them from before there was a chain. */
function chain(unchained = 0): BesideChain & { rows: BesideChain["rows"][number][] } {
  let previousHash = FIRST_PREVIOUS_HASH;
  const rows = states.map((_, index) => {
    const entry = entryAt(index);
    if (index < unchained) return { entry, link: { form: null, previousHash: null, hash: null } };
    const hash = sha256(canonicalHistoryText(previousHash, entry, form));
    const link = { form, previousHash, hash };
    previousHash = hash;
    return { entry, link };
  });
  const lastHash = unchained === states.length ? null : previousHash;
  return { name: "line 1", rows, lastHash, standing: { state: "in-statement", version: 4 }, contradiction: null };
}

const wrong = (one: BesideChain) => whatIsWrongBeside(one, sha256)?.sentence ?? null;

test("a chain is whole from its first row on, and where older rows stand unchained at its beginning", () => {
  for (const unchained of [0, 1, 3, 4]) expect(wrong(chain(unchained)), `${unchained}`).toBeNull();
  expect(wrong({ ...chain(), rows: [], lastHash: null, standing: null })).toBeNull();
});

test("a word changed, a row taken out or put in, and a mark or a state set otherwise are each found", () => {
  const { rows, ...rest } = chain();
  const [first, second, third, fourth] = rows;
  if (!first || !second || !third || !fourth) throw new Error("four rows");
  const changed = { ...third, entry: { ...third.entry, reason: "As agreed." } };
  expect(wrong({ ...rest, rows: [first, second, changed, fourth] })).toMatch(/not what was written/);
  expect(wrong({ ...rest, rows: [first, third, fourth] })).toMatch(/missing before/);
  expect(wrong({ ...rest, rows: [first, second, third] })).toMatch(/missing at the end/);
  expect(wrong({ ...rest, rows: [] })).toMatch(/missing at the end/);
  const bare = { ...third, link: { form: null, previousHash: null, hash: null } };
  expect(wrong({ ...rest, rows: [first, second, bare, fourth] })).toMatch(/not chained/);
  expect(wrong({ ...rest, rows, lastHash: null })).toMatch(/mark kept outside/);
  expect(wrong({ ...rest, rows, standing: { state: "paid", version: 4 } })).toMatch(/stands elsewhere/);
  expect(wrong({ ...rest, rows, standing: { state: "in-statement", version: 5 } })).toMatch(/version/);
  // Stripped of its links a chain would pass for an old one, were it not for the mark.
  const stripped = rows.map(({ entry }) => ({ entry, link: bare.link }));
  expect(wrong({ ...rest, rows: stripped })).toMatch(/missing at the end/);
});
