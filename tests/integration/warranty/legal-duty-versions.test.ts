import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { readDealerReturn } from "@/lib/data/returns/returns";
import { listToVerify } from "@/lib/data/to-verify";
import { replayReturn } from "@/lib/data/warranty/kept-answers";
import { readLegalDuties } from "@/lib/data/warranty/legal-duties-held";
import {
  proposeLegalDuty,
  readLegalTable,
  recordCounselsWord,
  settleLegalDuty,
} from "@/lib/data/warranty/legal-duty-versions";
import { calendarDate as day } from "@/lib/warranty/calendar";
import { legalDuties } from "@/lib/warranty/legal-duties";
import { counselsWordSchema, legalDutyProposalSchema } from "@/lib/warranty/legal-duty.schema";
import { otherClocks } from "@/lib/warranty/three-clocks";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
let reference = "";

const proposal = (over: Record<string, string> = {}) =>
  legalDutyProposalSchema.parse({
    version: "DE-2026-b",
    country: "DE",
    salesFrom: "2022-01-01",
    validFrom: "2026-11-01",
    months: "30",
    insteadOfMonths: "",
    burdenMonths: "12",
    rejectDays: "",
    monthsAfterRepair: "",
    consumerChooses: "yes",
    informBeforeRemedy: "no",
    refurbishedOnRequest: "no",
    sources: "A law made up for this test, s. 1 [read in the text of the law]",
    why: "The law was read again, and says something else.",
    ...over,
  });
const word = (fingerprint: string, over: Record<string, string> = {}) =>
  counselsWordSchema.parse({
    fingerprint,
    counselName: "Ines Okonjo",
    counselQualification: "Admitted in Berlin",
    confirmedOn: "2026-10-04",
    statement: "Compared with the law in force; filed under 12/2026.",
    ...over,
  });
const rowOf = async (version: string, country = "DE") => {
  const table = await readLegalTable(fleet.manager, country, new Date("2026-12-01T00:00:00Z"));
  const row = table?.held.find(({ duty }) => duty.version === version && duty.salesFrom === "2022-01-01");
  if (row === undefined) throw new Error(`no row ${version}`);
  return row;
};

beforeAll(async () => {
  fleet = await createSmallFleet({ packs: 4 });
  const answer = await lodgeReturn(fleet.berlin, filledForm(fleet.soldInBerlin), now);
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
});

test("the whole table is held from the start, and nobody but whoever reads the rules reads it", async () => {
  expect((await readLegalTable(fleet.manager))?.held).toHaveLength(legalDuties.length);
  expect((await readLegalTable(fleet.safetyOfficer))?.held).toHaveLength(legalDuties.length);
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead]) expect(await readLegalTable(actor)).toBeNull();
});

test("a manager proposes a row, another approves it, and nobody approves the own", async () => {
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.safetyOfficer])
    expect(await proposeLegalDuty(actor, proposal(), now)).toMatchObject({ reason: "not-allowed" });
  expect(await proposeLegalDuty(fleet.manager, proposal(), now)).toEqual({ ok: true });
  expect(await proposeLegalDuty(fleet.manager, proposal(), now)).toMatchObject({ reason: "version-taken" });
  expect(
    await proposeLegalDuty(fleet.manager, proposal({ version: "x1", validFrom: "2026-10-04" }), now),
  ).toMatchObject({ reason: "day-past" });
  expect(await settleLegalDuty(fleet.safetyOfficer, "DE-2026-b", "approved", now)).toMatchObject({
    reason: "not-allowed",
  });
  expect(await settleLegalDuty(fleet.manager, "DE-2026-b", "approved", now)).toMatchObject({ reason: "same-person" });
  const held = () => asActor(fleet.berlin, (tx) => readLegalDuties(tx)).then((duties) => duties.length);
  expect(await held()).toBe(legalDuties.length);
  expect(await settleLegalDuty(fleet.manager2, "DE-2026-b", "approved", now)).toEqual({ ok: true });
  expect(await held()).toBe(legalDuties.length + 1);
  await proposeLegalDuty(fleet.manager, proposal({ version: "DE-2026-c" }), now);
  expect(await settleLegalDuty(fleet.manager2, "DE-2026-c", "approved", now)).toMatchObject({ reason: "day-taken" });
});

test("an answer keeps the row of its day, and one of a later day is drawn from the row the house agreed on", async () => {
  const given = await readDealerReturn(fleet.berlin, reference);
  expect(given?.cover.clocks.legal).toMatchObject({ row: { version: "set-up" } });
  expect(given?.cover.clocks.legal.sentences.join(" ")).toMatch(/24 months/);
  const duties = await asActor(fleet.berlin, (tx) => readLegalDuties(tx));
  const clockOn = (today: string) =>
    otherClocks({
      outcome: "in-cover",
      startsOn: day("2025-11-03"),
      endsOn: day("2027-11-03"),
      evidence: "delivery-receipt",
      toldOn: day(today),
      settlement: null,
      dealerCountry: "DE",
      duties,
      facts: { start: {}, toldOn: today, today },
    }).legal;
  expect(clockOn("2026-10-31")).toMatchObject({ endsOn: "2027-11-03", row: { version: "set-up" } });
  expect(clockOn("2026-11-01")).toMatchObject({ endsOn: "2028-05-03", row: { version: "DE-2026-b" } });
});

test("a past answer given again shows the seller's duty by the rows of its day and of today, and lists what differs", async () => {
  const sameDay = await replayReturn(fleet.manager, reference, now);
  expect(sameDay?.law).toMatchObject({ thatDay: { row: { version: "set-up" } }, differences: [] });
  const later = await replayReturn(fleet.manager, reference, new Date("2026-11-02T00:00:00Z"));
  const before = later?.law?.thatDay.endsOn ?? null;
  expect(before).not.toBeNull();
  expect(later?.law?.thatDay).toEqual(sameDay?.law?.thatDay);
  expect(later?.law?.today).toMatchObject({ row: { version: "DE-2026-b" } });
  expect(later?.law?.differences).toEqual([
    {
      what: "legalRow",
      before: "set-up, for sales from 1 January 2022",
      after: expect.stringMatching(/^DE-2026-b, for sales from /),
    },
    { what: "legalEndsOn", before, after: later?.law?.today.endsOn },
  ]);
});

test("counsel's word is recorded by a manager who did not propose the row, once, and is printed wherever the row is", async () => {
  const { fingerprint } = await rowOf("DE-2026-b");
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead, fleet.safetyOfficer])
    expect(await recordCounselsWord(actor, word(fingerprint), now)).toMatchObject({ reason: "not-allowed" });
  expect(await recordCounselsWord(fleet.manager, word(fingerprint), now)).toMatchObject({ reason: "same-person" });
  expect(await recordCounselsWord(fleet.manager2, word("0".repeat(64)), now)).toMatchObject({ reason: "changed" });
  const tomorrow = word(fingerprint, { confirmedOn: "2026-10-06" });
  expect(await recordCounselsWord(fleet.manager2, tomorrow, now)).toMatchObject({ reason: "day-to-come" });
  expect(await recordCounselsWord(fleet.manager2, word(fingerprint), now)).toEqual({ ok: true });
  expect(await recordCounselsWord(fleet.manager2, word(fingerprint), now)).toMatchObject({ reason: "confirmed" });
  expect((await rowOf("DE-2026-b")).duty.confirmation).toMatchObject({
    counselName: "Ines Okonjo",
    recordedByName: "Milo",
  });
  expect((await rowOf("set-up")).duty.confirmation).toBeNull();
});

test("a row of set-up is confirmed the same way: the dealer reads it, and the list of what is to be verified leaves it out", async () => {
  const before = await listToVerify();
  const { fingerprint, duty } = await rowOf("set-up");
  const told = await readDealerReturn(fleet.berlin, reference);
  expect(told?.cover.clocks.legal).toMatchObject({ row: { salesFrom: duty.salesFrom } });
  expect(told?.cover.clocks.legal.counsel).toMatch(/^To be confirmed by counsel/);
  expect(await recordCounselsWord(fleet.manager, word(fingerprint), now)).toEqual({ ok: true });
  const after = await readDealerReturn(fleet.berlin, reference);
  expect(after?.cover.clocks.legal.counsel).toMatch(/^Confirmed by counsel: Ines Okonjo, 4 October 2026/);
  expect(await listToVerify()).toHaveLength(before.length - 1);
});

test("the database itself lets nobody edit a row or a word, approve alone, or write as another role", async () => {
  await expectWrittenOnce(
    () => asSystem((tx) => tx.legalDutyConfirmation.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.legalDutyConfirmation.updateMany({ data: { counselName: "Somebody else" } })),
  );
  const approve = { state: "approved", settledByUserId: fleet.manager.userId, settledByName: "x", settledAt: now };
  await expect(
    asSystem((tx) => tx.legalDutyVersion.update({ where: { version: "DE-2026-c" }, data: approve })),
  ).rejects.toThrow(/LegalDutyVersion_two_people|one_approved_a_day/);
  await expect(
    asSystem((tx) => tx.legalDutyVersion.update({ where: { version: "DE-2026-b" }, data: { country: "FR" } })),
  ).rejects.toThrow(/never edited/);
  const byOfficer = asActor(fleet.safetyOfficer, (tx) =>
    tx.legalDutyConfirmation.create({
      data: {
        ...word("1".repeat(64)),
        confirmedOn: now,
        country: "DE",
        version: "set-up",
        recordedByUserId: fleet.safetyOfficer.userId,
        recordedByName: "x",
        recordedAt: now,
      },
    }),
  );
  await expect(byOfficer).rejects.toThrow(/row-level security/);
  const dealerSees = await asActor(fleet.berlin, (tx) => tx.legalDutyVersion.findMany({ select: { state: true } }));
  expect(dealerSees).toEqual([{ state: "approved" }]);
});
