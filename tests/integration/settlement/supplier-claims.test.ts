import { beforeAll, expect, test } from "vitest";
import { asActor, asSystem } from "@/lib/data/database";
import { lodgeReturn } from "@/lib/data/lodge-return";
import {
  exportSupplierClaims,
  moveSupplierClaim,
  openSupplierClaim,
  readSupplierClaims,
} from "@/lib/data/supplier-claims";
import { supplierClaimSchema, supplierStepSchema } from "@/lib/settlement/supplier-claim.schema";
import { takeAndDecide } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";
import { expectWrittenOnce } from "@/tests/support/written-once";

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

/** A decided return of a pack with one lot in it. */
async function failed(confirmedFault: "weak-cell" | "unknown", position: number) {
  const serial = fleet.others[position];
  if (serial === undefined) throw new Error("the fleet has too few packs");
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), now);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await takeAndDecide(fleet, lodged.reference, {
    remedy: "replace",
    confirmedFault,
    reason: "Group 7 holds two thirds of the others.",
    replacementRevisionCode: "QP-B",
  });
  const lotCode = `PART-${position}`;
  await asSystem(async (tx) => {
    const { id: packId } = await tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
    const lot = { kind: "cell", code: lotCode, supplier: "Zellwerk Süd", receivedOn: now };
    await tx.packLot.create({
      data: { pack: { connect: { id: packId } }, lot: { create: lot } },
      select: { lotId: true },
    });
  });
  return { reference: lodged.reference, lotCode };
}

test("a supplier's line goes from possible to recovered by two people, with amounts, history and what is open per supplier", async () => {
  const { reference, lotCode } = await failed("weak-cell", 0);
  const form = (over = {}) =>
    supplierClaimSchema.parse({
      reference,
      lotCode,
      currency: "EUR",
      amount: "412.50",
      noticeBy: "2026-10-01",
      why: "Report 7.",
      ...over,
    });
  // Who is no manager opens none, and neither a foreign lot nor a failure nobody confirmed is a reason.
  for (const actor of [fleet.finance, fleet.bench, fleet.berlin])
    expect(await openSupplierClaim(actor, form(), now)).toMatchObject({ ok: false });
  expect(await openSupplierClaim(fleet.manager, form({ lotCode: "PART-99" }), now)).toMatchObject({ field: "lotCode" });
  const unknown = await failed("unknown", 1);
  expect(await openSupplierClaim(fleet.manager, form(unknown), now)).toMatchObject({ field: "reference" });
  expect(await openSupplierClaim(fleet.manager, form(), now)).toEqual({ ok: true });
  expect(await openSupplierClaim(fleet.manager, form(), now)).toMatchObject({ field: "lotCode" });

  const page = () => readSupplierClaims(fleet.finance, now);
  const first = await page();
  expect(first?.sums).toEqual([
    { supplier: "Zellwerk Süd", currency: "EUR", lines: 1, costMinor: 41_250, agreedMinor: 0 },
  ]);
  expect(first?.open).toMatchObject([{ state: "possible", isNoticeOverdue: true, next: ["notify"] }]);
  for (const actor of [fleet.berlin, fleet.bench, fleet.lead]) {
    expect(await readSupplierClaims(actor, now)).toBeNull();
    // Nor does the database show it to them.
    expect(await asActor(actor, (tx) => tx.supplierClaim.count())).toBe(0);
  }
  const claimId = first?.open[0]?.id ?? "";
  const step = (actor: SmallFleet["bench"], over: object) =>
    moveSupplierClaim(actor, supplierStepSchema.parse({ claimId, reason: "Letter of today.", ...over }), now);
  expect(await step(fleet.lead, { name: "notify", seenVersion: 1 })).toMatchObject({ ok: false });
  const both = await Promise.all([
    step(fleet.manager, { name: "notify", seenVersion: 1 }),
    step(fleet.finance, { name: "notify", seenVersion: 1 }),
  ]);
  expect(both.filter(({ ok }) => ok)).toHaveLength(1);
  const agree = { name: "agree-share", seenVersion: 2, share: "60" };
  expect(await step(fleet.manager, { ...agree, amount: "500" })).toMatchObject({ ok: false });
  expect(await step(fleet.manager, { ...agree, amount: "247,50" })).toEqual({ ok: true });
  expect((await page())?.sums).toMatchObject([{ agreedMinor: 24_750 }]);
  const recover = { name: "recover", seenVersion: 3, amount: "200.00" };
  expect(await step(fleet.manager, recover)).toMatchObject({ ok: false });
  expect(await step(fleet.finance, recover)).toEqual({ ok: true });
  const over = await page();
  expect(over).toMatchObject({ open: [], sums: [] });
  expect(over?.done).toMatchObject([
    {
      state: "recovered",
      sharePercent: 60,
      agreedMinor: 24_750,
      recoveredMinor: 20_000,
      moves: ["possible", "notified", "share-agreed", "recovered"].map((to) => ({ to })),
    },
  ]);
  expect(await step(fleet.manager2, { name: "write-off", seenVersion: 4 })).toMatchObject({ ok: false });
  expect(await exportSupplierClaims(fleet.finance, now)).toHaveLength(1);
  expect(await exportSupplierClaims(fleet.manager, now)).toBeNull();
  await expectWrittenOnce(
    () => asSystem((tx) => tx.supplierMove.findMany({ orderBy: { id: "asc" } })),
    () => asSystem((tx) => tx.supplierMove.updateMany({ data: { reason: "Another reason." } })),
  );
  await expect(asSystem((tx) => tx.supplierClaim.updateMany({ data: { amountMinor: 1, version: 5 } }))).rejects.toThrow(
    /never edited/,
  );
});

test("what is given up is given up by a manager who did not open it, and is open with nobody any more", async () => {
  const { reference, lotCode } = await failed("weak-cell", 2);
  const form = { reference, lotCode, currency: "EUR", amount: "80", noticeBy: "", why: "Report 8." };
  expect(await openSupplierClaim(fleet.manager, supplierClaimSchema.parse(form), now)).toEqual({ ok: true });
  const claimId = (await readSupplierClaims(fleet.manager, now))?.open[0]?.id ?? "";
  const step = supplierStepSchema.parse({
    claimId,
    name: "write-off",
    seenVersion: 1,
    reason: "The lot cannot be proven.",
  });
  for (const actor of [fleet.manager, fleet.finance])
    expect(await moveSupplierClaim(actor, step, now)).toMatchObject({ ok: false });
  expect(await moveSupplierClaim(fleet.manager2, step, now)).toEqual({ ok: true });
  expect((await readSupplierClaims(fleet.manager, now))?.open).toEqual([]);
});
