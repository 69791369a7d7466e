import { createHash } from "node:crypto";
import { beforeAll, expect, test } from "vitest";
import { listRevisionIssues } from "@/lib/data/packs/revision-issues";
import { keepReadings } from "@/lib/data/readings/readings";
import { openReturnFile } from "@/lib/data/readings/readings-download";
import { readGroupPage } from "@/lib/data/reliability/group-page";
import { findReturn } from "@/lib/data/returns/find-return";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { groupSerial } from "@/lib/packs/serial";
import { calendarDate } from "@/lib/warranty/calendar";
import { takeAndDecide } from "@/tests/support/decide-return";
import { plainLogCsv, streamOf } from "@/tests/support/plain-log-csv";
import { createSmallFleet, filledForm, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const text = plainLogCsv({ groups: 16, rows: 64 });
let fleet: SmallFleet;
let reference = "";

beforeAll(async () => {
  fleet = await createSmallFleet();
  const kept = await keepReadings(fleet.berlin, {
    serial: fleet.soldInBerlin,
    fileName: '../"x".csv',
    chunks: streamOf(text),
  });
  if (!kept.ok) throw new Error(kept.sentence);
  const form = filledForm(fleet.soldInBerlin, { readingFileId: kept.file.id, noFileReason: "" });
  const answer = await lodgeReturn(fleet.berlin, form, new Date("2026-10-05T09:00:00Z"));
  if (!answer.ok) throw new Error(JSON.stringify(answer));
  reference = answer.reference;
});

test("a scanned serial or a typed reference opens the return", async () => {
  expect(await findReturn(fleet.bench, groupSerial(fleet.soldInBerlin).toLowerCase())).toEqual({
    kind: "found",
    reference,
  });
  expect(await findReturn(fleet.bench, reference.replaceAll("-", " "))).toEqual({ kind: "found", reference });
});

test("what leads nowhere is answered with one sentence", async () => {
  for (const typed of ["", "R-26-00001-Q", "hello", groupSerial(fleet.unsold)]) {
    expect(await findReturn(fleet.bench, typed)).toMatchObject({
      kind: "not-found",
      sentence: expect.stringMatching(/\.$/),
    });
  }
  expect(await findReturn(fleet.berlin, reference)).toMatchObject({ kind: "not-found" });
});

test("the original bytes come back as they were sent; another dealer gets nothing", async () => {
  const file = await openReturnFile(fleet.bench, reference);
  if (file === null) throw new Error("no file");
  const bytes = Buffer.from(await new Response(file.bytes).arrayBuffer());
  expect(bytes.toString("utf8")).toBe(text);
  expect(file.sha256).toBe(createHash("sha256").update(text).digest("hex"));
  expect(await openReturnFile(fleet.sydney, reference)).toBeNull();
  expect(await openReturnFile(fleet.bench, "nonsense")).toBeNull();
});

test("the packs behind the number of failures are listed for the manager alone", async () => {
  const decision = {
    remedy: "repair",
    confirmedFault: "weak-cell",
    reason: "Group 4 is weak.",
  } as const;
  await takeAndDecide(fleet, reference, decision, new Date("2026-10-20T09:00:00Z"));
  const asked = { by: "revision", group: "QP-A" } as const;
  const page = await readGroupPage(fleet.manager, calendarDate("2026-11-01"), asked);
  // Sold 2025-11-03, told 2026-10-02.
  expect(page?.failures).toMatchObject([{ reference, ageDays: 333, confirmedFault: "weak-cell" }]);
  expect(await listRevisionIssues(fleet.manager, "QP-A")).toMatchObject([{ lot: { code: "CELL-1" } }]);
  expect(await listRevisionIssues(fleet.berlin, "QP-A")).toBeNull();
});
