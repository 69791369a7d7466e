import Papa from "papaparse";
import { beforeAll, expect, test } from "vitest";
import { exportAffectedPacks, findAffectedPacks } from "@/lib/data/affected-packs";
import { asSystem } from "@/lib/data/database";
import { groupSerial, type Serial } from "@/lib/packs/serial";
import {
  type AffectedDefinition,
  affectedCsv,
  affectedSentence,
  countByPlace,
  packsByCountry,
} from "@/lib/reliability/affected-packs";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

const lot = { by: "cell-lot", group: "CELL-1" } as const;
let fleet: SmallFleet;
beforeAll(async () => {
  fleet = await createSmallFleet();
});

async function packsOf(definition: AffectedDefinition) {
  const found = await findAffectedPacks(fleet.manager, definition);
  if (found?.kind !== "packs") throw new Error(JSON.stringify(found));
  return found;
}

test("packs that share a lot are found with where they are, by country", async () => {
  const { packs, takenOut } = await packsOf(lot);
  expect(packs).toHaveLength(12);
  expect(takenOut).toBe(0);
  const placeOf = (serial: Serial) => packs.find((pack) => pack.serial === serial);
  expect(placeOf(fleet.unsold)).toMatchObject({ place: "at-a-dealer", country: "DE", soldOn: null });
  expect(placeOf(fleet.soldInSydney)).toMatchObject({ place: "with-a-customer", country: "AU", soldOn: "2024-03-15" });
  const rows = packsByCountry(packs);
  expect(rows.reduce((sum, { total }) => sum + total, 0)).toBe(12);
  expect(affectedSentence(packs, 0)).toBe(
    "12 packs in 2 countries: 0 with us, 1 at dealers, 11 with customers, 0 with carriers, 0 out of reach. 0 of them have had a confirmed failure already.",
  );
  expect(packs[0]?.serial).toBe(fleet.unsold);
});

test("a lot that a repair took out no longer counts, and is told apart", async () => {
  const [serial] = fleet.others;
  await asSystem((tx) =>
    tx.packLot.updateMany({
      where: { pack: { serial: serial ?? "" } },
      data: { removedOn: new Date("2025-06-01T00:00:00Z") },
    }),
  );
  const { packs, takenOut } = await packsOf(lot);
  expect([packs.length, takenOut]).toEqual([11, 1]);
  expect(packs.some((pack) => pack.serial === serial)).toBe(false);
});

test("a range of serials narrows the packs; what is no serial is refused in words", async () => {
  const [from, to] = [fleet.others[2], fleet.others[4]];
  if (from === undefined || to === undefined) throw new Error("the fleet has more packs");
  const revision = { by: "revision", group: "QP-A" } as const;
  const { packs } = await packsOf({ ...revision, from: groupSerial(from).toLowerCase(), to });
  expect(packs.map(({ serial }) => serial).sort()).toEqual([fleet.others[2], fleet.others[3], fleet.others[4]].sort());
  expect(await findAffectedPacks(fleet.manager, { ...revision, from: "'; DROP TABLE" })).toMatchObject({
    kind: "not-a-serial",
    field: "from",
  });
});

test("a group that nobody knows has no packs", async () => {
  expect(countByPlace((await packsOf({ by: "dealer", group: "<script>" })).packs)["with-us"]).toBe(0);
  expect(affectedSentence((await packsOf({ by: "firmware", group: "9" })).packs, 0)).toBe(
    "No pack is like that today.",
  );
});

// reference/trade.md 2.4 names who may propose a set of affected packs; a rule of this house.
test("service lead, manager and safety officer find them, nobody else", async () => {
  for (const actor of [fleet.lead, fleet.manager, fleet.safetyOfficer])
    expect((await exportAffectedPacks(actor, lot))?.kind).toBe("packs");
  for (const actor of [fleet.berlin, fleet.bench, fleet.finance, fleet.administrator]) {
    expect(await findAffectedPacks(actor, lot)).toBeNull();
    expect(await exportAffectedPacks(actor, lot)).toBeNull();
  }
});

test("the file says in every row what the packs share and as of when", async () => {
  const { packs } = await packsOf(lot);
  const rows = Papa.parse<Record<string, string>>(affectedCsv("2026-11-01", lot, packs), { header: true }).data;
  expect(rows).toHaveLength(packs.length);
  expect(rows.every((row) => row["as of"] === "2026-11-01" && row.name === "CELL-1")).toBe(true);
  expect(new Set(rows.map((row) => row.country))).toEqual(new Set(["DE", "AU"]));
});
