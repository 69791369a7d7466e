import { beforeAll, expect, test } from "vitest";
import { fromDateColumn } from "@/lib/data/calendar-columns";
import { asActor, asSystem } from "@/lib/data/database";
import { readChainFacts } from "@/lib/data/packs/chain-facts";
import { lookUpPack } from "@/lib/data/packs/packs";
import { readRemedyView } from "@/lib/data/remedies/remedy-view";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { replayAll, replayReturn } from "@/lib/data/warranty/kept-answers";
import { readLegalPrompts, recordLegalNotice } from "@/lib/data/warranty/legal-notices";
import { listPolicies, proposePolicy, settlePolicy, shadowRunOf, termsToStartFrom } from "@/lib/data/warranty/policies";
import { type CalendarDate, calendarDate as day, plusDays } from "@/lib/warranty/calendar";
import { startEvidences } from "@/lib/warranty/policy.schema";
import {
  type PolicyProposalInput,
  policyProposalSchema,
  sayEvidenceOrder,
} from "@/lib/warranty/policy-proposal.schema";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let reference = "";
let outsideReference = "";

const proposal = (over: Partial<PolicyProposalInput> = {}) =>
  policyProposalSchema.parse({
    version: "2027-01",
    validFrom: "2027-01-01",
    months: "36",
    graceDays: "7",
    leapDay: "march-1",
    stockAgeCapMonths: "",
    replacementRule: "minimum",
    minimumDays: "90",
    minimumMonths: "0",
    weekendEnd: "next-working-day",
    clockStop: "while-with-us",
    evidenceGapDays: "14",
    evidenceOrder: sayEvidenceOrder(startEvidences),
    why: "A year more than the others give.",
    ...over,
  });

async function lodge(actor: typeof fleet.berlin, serial: typeof fleet.soldInBerlin) {
  const answer = await lodgeReturn(actor, filledForm(serial), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  return answer.reference;
}

beforeAll(async () => {
  fleet = await createSmallFleet();
  reference = await lodge(fleet.berlin, fleet.soldInBerlin);
  outsideReference = await lodge(fleet.sydney, fleet.soldInSydney);
});

test("a manager proposes, another approves, and nobody approves the own proposal", async () => {
  expect(await proposePolicy(fleet.bench, proposal(), now)).toMatchObject({ reason: "not-allowed" });
  expect(await proposePolicy(fleet.manager, proposal(), now)).toEqual({ ok: true });
  expect(await proposePolicy(fleet.manager2, proposal(), now)).toMatchObject({ reason: "version-taken" });
  expect(await settlePolicy(fleet.manager, "2027-01", "approved", now)).toMatchObject({ reason: "same-person" });
  expect(await settlePolicy(fleet.lead, "2027-01", "approved", now)).toMatchObject({ reason: "not-allowed" });
});

test("the shadow run says how many past answers would have changed, and is kept with the approval", async () => {
  const run = await shadowRunOf(fleet.manager2, "2027-01");
  expect(run).toMatchObject({
    answers: 2,
    outcomeChanged: 1,
    moves: [{ from: "outside-makers-guarantee", to: "in-cover", answers: 1 }],
  });
  const both = await Promise.all([1, 2].map(() => settlePolicy(fleet.manager2, "2027-01", "approved", now)));
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  const settled = (await listPolicies(fleet.manager))?.find(({ version }) => version === "2027-01");
  expect(settled).toMatchObject({ state: "approved", settledByName: "Milo" });
  expect(settled?.shadowSentence).toMatch(/would have changed 1 of the 2 past answers/);
});

test("the database itself lets nobody approve alone, edit a version, or write an approved one", async () => {
  await expect(
    asSystem((tx) => tx.warrantyPolicy.update({ where: { version: "2027-01" }, data: { months: 12 } })),
  ).rejects.toThrow(/never edited/);
  await expect(asSystem((tx) => tx.warrantyPolicy.delete({ where: { version: "2027-01" } }))).rejects.toThrow(
    /never edited/,
  );
  await proposePolicy(fleet.manager, proposal({ version: "2027-02", validFrom: "2027-02-01" }), now);
  await expect(
    asSystem((tx) =>
      tx.warrantyPolicy.update({
        where: { version: "2027-02" },
        data: { state: "approved", settledByUserId: fleet.manager.userId, settledByName: "Manon", settledAt: now },
      }),
    ),
  ).rejects.toThrow(/WarrantyPolicy_two_people/);
  const byDealer = await asActor(fleet.berlin, (tx) => tx.warrantyPolicy.findMany({ select: { version: true } }));
  expect(byDealer.map(({ version }) => version)).not.toContain("2027-02");
});

test("a version never begins in the past, and two approved ones never on one day", async () => {
  expect(await proposePolicy(fleet.manager, proposal({ version: "past", validFrom: "2026-10-04" }), now)).toMatchObject(
    {
      reason: "day-past",
    },
  );
  await proposePolicy(fleet.manager, proposal({ version: "2027-01b" }), now);
  expect(await settlePolicy(fleet.manager2, "2027-01b", "approved", now)).toMatchObject({ reason: "day-taken" });
  expect(await settlePolicy(fleet.manager, "2027-01b", "dropped", now)).toEqual({ ok: true });
});

test("the next proposal starts from the version in force, its order of evidence included", async () => {
  const order = [...startEvidences].reverse();
  const last = { version: "2028-03", validFrom: "2028-03-01", evidenceOrder: sayEvidenceOrder(order) };
  await proposePolicy(fleet.manager, proposal(last), now);
  expect(await settlePolicy(fleet.manager2, last.version, "approved", now)).toEqual({ ok: true });
  expect((await termsToStartFrom(fleet.manager, now)).evidenceOrder).toEqual(startEvidences);
  const later = await termsToStartFrom(fleet.manager, new Date("2028-03-02T00:00:00Z"));
  expect(later).toMatchObject({ version: "2028-03", evidenceOrder: order, months: 36 });
});

test("a past answer comes out as it was given under its day's version, and its differences under today's are listed", async () => {
  const then = await replayReturn(fleet.manager, outsideReference, new Date("2027-06-01T00:00:00Z"));
  expect(then).toMatchObject({
    todayVersion: "2027-01",
    thatDay: { kind: "replayed", differences: [], rulesChanged: false },
    today: {
      kind: "replayed",
      differences: [{ what: "outcome", after: "in-cover" }, { what: "endsOn" }, { what: "graceEndsOn" }],
    },
  });
  expect(await replayReturn(fleet.berlin, outsideReference, now)).toBeNull();
  expect(await replayAll(fleet.manager)).toEqual({ answers: 2, withoutFacts: 0, differing: [] });
});

test("three clocks stand apart on the dealer's page and on the pack's card", async () => {
  const page = await readDealerReturn(fleet.sydney, outsideReference);
  expect(page?.cover.outcome).toBe("outside-makers-guarantee");
  expect(page?.cover.clocks.legal.sentences.join(" ")).toMatch(/as long as is reasonable/);
  expect(page?.cover.clocks.settlement).toMatch(/Between maker and dealer/);
  const look = await lookUpPack(fleet.berlin, fleet.soldInBerlin);
  expect(JSON.stringify(look)).toMatch(/the seller's time of 24 months runs until 3 November 2027/);
});

test("a field action covers a pack whatever its dates say, from the day it is opened", async () => {
  await asSystem((tx) => tx.knownIssue.updateMany({ data: { coversWhateverTheDate: true } }));
  const look = await lookUpPack(fleet.sydney, fleet.soldInSydney);
  expect(look).toMatchObject({ pack: { cover: { outcome: "covered-by-field-action" } } });
  // Opened between the day it was told and today, or closed since: it covers either way.
  const { id: packId, revision } = await asSystem((tx) =>
    tx.pack.findUniqueOrThrow({ where: { serial: fleet.soldInSydney }, select: { id: true, revision: true } }),
  );
  const pack = { packId, revision: { ...revision, introducedOn: day("2024-01-01"), changes: [] }, saleZone: null };
  const opened = await asSystem((tx) =>
    tx.knownIssue.findFirstOrThrow({ where: { coversWhateverTheDate: true }, orderBy: { openedOn: "asc" } }),
  );
  const openedOn = fromDateColumn(opened.openedOn);
  const on = async (toldOn: CalendarDate, today: CalendarDate) =>
    (await asSystem((tx) => readChainFacts(tx, pack, { toldOn, today }))).fieldActions?.length ?? 0;
  expect(await on(plusDays(openedOn, -9), plusDays(openedOn, -1))).toBe(0);
  expect(await on(plusDays(openedOn, -9), openedOn)).toBeGreaterThan(0);
  await asSystem((tx) => tx.knownIssue.updateMany({ data: { coversWhateverTheDate: false } }));
});

test("what must be shown before a remedy is named until it is shown, and the record is never changed", async () => {
  await asSystem((tx) =>
    tx.return.update({ where: { reference }, data: { coverStartsOn: new Date("2026-08-01T00:00:00Z") } }),
  );
  const { id } = await asSystem((tx) => tx.return.findUniqueOrThrow({ where: { reference }, select: { id: true } }));
  const ask = () => asActor(fleet.bench, (tx) => readLegalPrompts(tx, id, { remedy: "replace" }));
  const { prompts, missing } = await ask();
  expect(missing).toEqual(["choice-and-extension"]);
  const [prompt] = prompts;
  if (prompt === undefined) throw new Error("no prompt");
  const shown = { kind: prompt.kind, choice: "replacement", language: "de" } as const;
  expect(await recordLegalNotice(fleet.berlin, reference, { ...shown, choice: "refurbished" }, now)).toBe(false);
  expect(await recordLegalNotice(fleet.sydney, reference, shown, now)).toBe(false);
  expect(await recordLegalNotice(fleet.berlin, reference, shown, now)).toBe(true);
  expect((await ask()).missing).toEqual([]);
  // In the words the customer read, not in those of whoever recorded it.
  expect(await asSystem((tx) => tx.legalNoticeShown.findMany({ select: { text: true } }))).toEqual([
    { text: prompt.texts.de },
  ]);
  await expect(asSystem((tx) => tx.legalNoticeShown.updateMany({ data: { choice: "repair" } }))).rejects.toThrow(
    /written once/,
  );
});

test("where the law gave the choice and asked for no notice, what the customer chose is kept, and nothing waits for it", async () => {
  await asSystem((tx) =>
    tx.return.update({
      where: { reference: reference },
      data: { coverStartsOn: new Date("2025-08-01T00:00:00Z") },
    }),
  );
  const before = await readRemedyView(fleet.bench, reference);
  expect(before?.prompts.map(({ kind }) => kind)).toEqual(["choice-of-remedy"]);
  const anHourLater = new Date(now.getTime() + 3_600_000);
  const told = { kind: "choice-of-remedy", choice: "repair", language: "de" } as const;
  expect(await recordLegalNotice(fleet.berlin, reference, told, anHourLater)).toBe(true);
  const { id } = await asSystem((tx) =>
    tx.return.findUniqueOrThrow({ where: { reference: reference }, select: { id: true } }),
  );
  const { missing } = await asActor(fleet.bench, (tx) => readLegalPrompts(tx, id, { remedy: "repair" }));
  expect(missing).toEqual([]);
  expect(await readRemedyView(fleet.bench, reference)).toMatchObject({
    choice: "repair",
    shown: [{ kind: "choice-and-extension" }, { kind: "choice-of-remedy", choice: "repair" }],
  });
});
