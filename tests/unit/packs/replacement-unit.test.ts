import { expect, test } from "vitest";
import { type UnitFacts, type UnitRefusal, whyUnitMayNotGo } from "@/lib/packs/replacement-unit";

const fit: UnitFacts = {
  revisionCode: "QP-B",
  hasBuildRecord: true,
  vibrationPassed: true,
  isInStore: true,
  wasLent: false,
  wasSold: false,
  cameAsReplacement: false,
  wasReplaced: false,
  isReturnedPack: false,
  wentBefore: false,
  hasOpenReturn: false,
  isSetApart: false,
  isOnHold: false,
  isLent: false,
  isAway: false,
  keptFor: null,
  stops: [],
};
const wanted = { revisionCode: "QP-B", mayReplaceToday: true };

test("a pack of the decided revision from the store, kept for nobody and under no stop, may go", () => {
  expect(whyUnitMayNotGo(fit, wanted)).toBeNull();
});

test.for<[UnitRefusal, Partial<UnitFacts>, RegExp]>([
  ["is-returned-pack", { isReturnedPack: true, hasOpenReturn: true, wasSold: true }, /returned pack itself/],
  ["would-close-a-loop", { wentBefore: true, wasReplaced: true }, /lead back/],
  ["was-replaced", { wasReplaced: true, wasSold: true }, /was replaced itself/],
  ["is-in-service", { wasSold: true, isInStore: false }, /in service/],
  ["is-in-service", { cameAsReplacement: true }, /in service/],
  ["is-not-in-store", { isInStore: false }, /left the store/],
  ["was-lent", { wasLent: true }, /used/],
  ["is-in-a-return", { hasOpenReturn: true }, /return of this pack is open/],
  ["is-set-apart", { isSetApart: true }, /set apart/],
  ["is-on-hold", { isOnHold: true }, /legal hold/],
  ["is-lent", { isLent: true }, /lent/],
  ["is-kept-for-another", { keptFor: "R-26-00418-T" }, /R-26-00418-T/],
  ["is-another-revision", { revisionCode: "QP-A" }, /QP-A; decided was QP-B/],
  ["is-stopped", { stops: [{ title: "Cells fade", lotCode: "CELL-9" }] }, /CELL-9, which is stopped: Cells fade/],
  ["is-stopped", { stops: [{ title: "Loose welds", lotCode: null }] }, /must not go out: Loose welds/],
  ["has-no-build-record", { hasBuildRecord: false }, /No build record/],
  ["failed-its-test", { vibrationPassed: false }, /vibration/],
])("refused at the field: %s", ([why, over, words]) => {
  const refused = whyUnitMayNotGo({ ...fit, ...over }, wanted);
  expect(refused?.why).toBe(why);
  expect(refused?.sentence).toMatch(words);
});

test("an unknown serial, an undecided return and a revision that may not replace today are refused", () => {
  expect(whyUnitMayNotGo(null, wanted)?.why).toBe("unit-unknown");
  expect(whyUnitMayNotGo(fit, { revisionCode: null, mayReplaceToday: false })?.why).toBe("nothing-decided");
  expect(whyUnitMayNotGo(fit, { ...wanted, mayReplaceToday: false })?.why).toBe("may-not-replace");
});
