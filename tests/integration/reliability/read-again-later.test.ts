import { beforeAll, expect, test } from "vitest";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import { calendarDate } from "@/lib/warranty/calendar";
import { takeAndDecide } from "@/tests/support/decide-return";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const dataDate = calendarDate("2026-10-20");
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function answer(on = dataDate) {
  const page = await readGroupPage(fleet.manager, on, { by: "revision", group: "QP-A" });
  if (page === null) throw new Error("no page of QP-A");
  const { line, failures, repeats, lag } = page;
  return { line, failures, repeats, lag };
}

async function lodged(index: number) {
  const serial = fleet.others[index] ?? fleet.unsold;
  const done = await lodgeReturn(fleet.berlin, filledForm(serial), new Date("2026-10-05T09:00:00Z"));
  if (!done.ok) throw new Error(JSON.stringify(done));
  return done.reference;
}

const weakCell = { remedy: "repair", confirmedFault: "weak-cell", reason: "Group 4 holds 31 Ah." } as const;

test("what is decided after a data date changes nothing of the answer given for it", async () => {
  const decidedInTime = await lodged(0);
  const decidedLater = await lodged(1);
  await takeAndDecide(fleet, decidedInTime, weakCell, new Date("2026-10-19T09:00:00Z"));
  const before = await answer();
  expect(before.line).toMatchObject({ failures: 1, undecidedReturns: 1 });

  await takeAndDecide(fleet, decidedLater, weakCell, new Date("2026-10-25T09:00:00Z"));
  expect(await answer()).toEqual(before);
  expect((await answer(calendarDate("2026-10-25"))).line).toMatchObject({ failures: 2, undecidedReturns: 0 });
});

test("a return withdrawn after a data date still counts as open on it", async () => {
  const reference = await lodged(2);
  const before = await answer();
  expect(before.line).toMatchObject({ undecidedReturns: 2 });

  const withdrawn = await makeMove(
    fleet.berlin,
    reference,
    { name: "withdraw", reason: "The customer keeps it.", seenVersion: 1 },
    new Date("2026-10-26T09:00:00Z"),
  );
  expect(withdrawn).toMatchObject({ ok: true });
  expect(await answer()).toEqual(before);
  expect((await answer(calendarDate("2026-10-26"))).line).toMatchObject({ undecidedReturns: 0 });
});
