import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { readPackFacts } from "@/lib/data/packs/pack-facts";
import { keepReadings } from "@/lib/data/readings/readings";
import { replayThresholds } from "@/lib/data/readings/threshold-replay";
import {
  listThresholdModels,
  proposeThresholds,
  readModelThresholds,
  settleThresholds,
} from "@/lib/data/readings/threshold-versions";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { thresholdProposalSchema } from "@/lib/diagnosis/threshold-proposal";
import type { Serial } from "@/lib/packs/serial";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date();
const today = civilDateAt(now, "UTC");
const tomorrow = plusDays(today, 1);
const dayAfter = new Date(now.getTime() + 86_400_000);

let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

const proposal = (validFrom: string, onVersion = "") =>
  thresholdProposalSchema.parse({ model: "QP", onVersion, validFrom, why: "This model is warm in summer." });

/** A quiet pack at 70 °C: between the lowest and the usual temperature that is hot in itself. */
async function sendWarmLog(serial: Serial) {
  const text = plainLogCsv({ groups: 16 }).replaceAll(",21.0", ",70.0");
  const kept = await keepReadings(fleet.berlin, { serial, fileName: "warm.csv", chunks: streamOf(text) });
  if (!kept.ok) throw new Error(kept.sentence);
  return kept.file.id;
}

async function lodge(serial: Serial, readingFileId: string): Promise<string> {
  const { noFileReason, ...form } = filledForm(serial);
  expect(noFileReason).toBe("later");
  const answer = await lodgeReturn(fleet.berlin, { ...form, readingFileId }, now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

const readSuggestion = (reference: string) =>
  asSystem((tx) =>
    tx.suggestion.findFirstOrThrow({
      where: { readingFile: { return: { reference } } },
      select: { remedy: true, thresholds: true, madeAt: true },
    }),
  );

test("thresholds are changed by two people; past suggestions stay, what is judged afterwards or anew uses the new ones", async () => {
  const past = await lodge(fleet.soldInBerlin, await sendWarmLog(fleet.soldInBerlin));
  const before = await readSuggestion(past);
  expect(before.thresholds).toEqual({});
  const waiting = await sendWarmLog(fleet.unsold);

  const typed = { "acute.hotC": "65", "verdict.imbalancePercent": "5" };
  expect(await proposeThresholds(fleet.bench, proposal(today), typed, now)).toMatchObject({ reason: "not-allowed" });
  expect(await proposeThresholds(fleet.lead, proposal("2026-01-01"), typed, now)).toMatchObject({ reason: "day-past" });
  expect(await proposeThresholds(fleet.lead, proposal(today), { "acute.hotC": "95" }, now)).toMatchObject({
    reason: "unsound",
    problems: [{ field: "acute.hotC" }],
  });
  expect(await proposeThresholds(fleet.lead, proposal(today), {}, now)).toMatchObject({ reason: "unsound" });
  expect(await proposeThresholds(fleet.manager, proposal(today), typed, now)).toEqual({ ok: true });
  expect(await proposeThresholds(fleet.lead, proposal(today), typed, now)).toMatchObject({ reason: "proposal-open" });

  // What is proposed counts for nothing, and its proposer does not approve it, nor does the lead.
  const replayed = await replayThresholds(fleet.lead, past);
  if (replayed?.kind !== "replayed") throw new Error(JSON.stringify(replayed));
  expect(replayed.again.map(({ under, differences }) => [under, differences.length > 0])).toEqual([
    [null, false],
    ["in-force", false],
    [{ proposal: "QP-1" }, true],
  ]);
  expect(await settleThresholds(fleet.manager, "QP-1", "approved", now)).toMatchObject({ reason: "same-person" });
  expect(await settleThresholds(fleet.lead, "QP-1", "approved", now)).toMatchObject({ reason: "not-allowed" });
  expect(await settleThresholds(fleet.manager2, "QP-1", "approved", dayAfter)).toMatchObject({ reason: "day-past" });
  expect((await asSystem((tx) => readPackFacts(tx, fleet.unsold)))?.model.facts.diagnosis).toBeUndefined();
  expect(await settleThresholds(fleet.manager2, "QP-1", "approved", now)).toEqual({ ok: true });
  expect(await settleThresholds(fleet.manager2, "QP-1", "dropped", now)).toMatchObject({ reason: "settled" });

  // A file judged before and sent with its form afterwards keeps the thresholds it was judged by.
  expect((await readSuggestion(await lodge(fleet.unsold, waiting))).thresholds).toEqual({});
  const third = fleet.others[0] ?? fleet.unsold;
  const after = await readSuggestion(await lodge(third, await sendWarmLog(third)));
  expect(after.thresholds).toEqual({ acute: { hotC: 65 }, verdict: { imbalancePercent: 5 } });
  expect(after.remedy).toBe("isolate");

  const anew = await replayThresholds(fleet.manager2, past);
  if (anew?.kind !== "replayed") throw new Error(JSON.stringify(anew));
  expect(anew.again.map(({ under }) => under)).toEqual([null, "in-force"]);
  expect(anew.again[1]?.thresholdChanges).toEqual([
    "Imbalance: offset of a group's charge: 4 % of charge (usual) before, 5 % of charge from then on.",
    "Hot in itself: 80 °C (usual) before, 65 °C from then on.",
  ]);
  expect(anew.again[1]?.verdict.suggestion.remedy).toBe("isolate");
  expect(anew.again[1]?.differences.join(" ")).toMatch(/^Suggestion: .* becomes .*Found besides: /);
  expect(await readSuggestion(past)).toEqual(before);

  const page = await readGroupPage(fleet.manager, today, { by: "revision", group: "QP-A" });
  expect(page?.revision?.thresholds).toContainEqual({ name: "acute.hotC", value: "65", usual: "80" });
});

test("a version begins on its first day and not before, and builds on the newest approved one", async () => {
  const back = { "acute.hotC": "", "verdict.imbalancePercent": "5" };
  expect(await proposeThresholds(fleet.lead, proposal(tomorrow), back, now)).toMatchObject({ reason: "changed" });
  expect(await proposeThresholds(fleet.lead, proposal(today, "QP-1"), back, now)).toMatchObject({
    reason: "not-after",
  });
  expect(await proposeThresholds(fleet.lead, proposal(tomorrow, "QP-1"), back, now)).toEqual({ ok: true });
  expect(await settleThresholds(fleet.manager, "QP-2", "approved", now)).toEqual({ ok: true });
  const hotC = async (at: Date) =>
    (await asSystem((tx) => readPackFacts(tx, fleet.unsold, at)))?.model.facts.diagnosis?.acute?.hotC;
  expect([await hotC(now), await hotC(dayAfter)]).toEqual([65, undefined]);
  const model = await readModelThresholds(fleet.bench, "QP", now);
  expect(model).toMatchObject({ inForceVersion: "QP-1", newest: { version: "QP-2" } });
  expect(model?.versions.map(({ version, state, changes }) => [version, state, changes.length])).toEqual([
    ["QP-2", "approved", 1],
    ["QP-1", "approved", 2],
  ]);
});

test("who has no business with thresholds sees none, and nobody edits a version", async () => {
  for (const actor of [fleet.berlin, fleet.finance, fleet.administrator]) {
    expect(await listThresholdModels(actor)).toBeNull();
    expect(await replayThresholds(actor, "R-1")).toBeNull();
  }
  await expect(
    asSystem((tx) => tx.thresholdVersion.updateMany({ where: { version: "QP-1" }, data: { why: "another" } })),
  ).rejects.toThrow(/never edited/);
  const state = { state: "approved", settledByUserId: "x", settledByName: "x", settledAt: now };
  const changed = await asActor(fleet.lead, (tx) => tx.thresholdVersion.updateMany({ data: state }));
  expect(changed.count).toBe(0);
});
