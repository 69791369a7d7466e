import { expect, test } from "vitest";
import { makeSerial } from "@/lib/packs/serial";
import { type BoxContent, energyInBoxKwh } from "@/lib/receiving/energy-in-box";

const small = { code: "QP", ratedCapacityAh: 40, ratedVoltageV: 50 };
const middle = { code: "RM", ratedCapacityAh: 60, ratedVoltageV: 50 };
const large = { code: "TB", ratedCapacityAh: 80, ratedVoltageV: 50 };
const serialOf = (model: string) => makeSerial({ model, buildYear: 2024, buildWeek: 2, sequence: 7 });

const kwh = (content: Partial<BoxContent>) =>
  energyInBoxKwh({
    lodgedModelCode: "RM",
    is: "open",
    foundSerial: null,
    models: [small, middle, large],
    ...content,
  });

test("the pack of the return counts with its own energy, whatever was scanned first", () => {
  expect(kwh({ is: "lodged-pack" })).toBe(3);
  expect(kwh({ is: "lodged-pack", foundSerial: serialOf("TB") })).toBe(3);
});

test("another pack counts with its own energy, smaller or larger than the lodged one's", () => {
  expect(kwh({ is: "other-pack", foundSerial: serialOf("TB") })).toBe(4);
  expect(kwh({ is: "other-pack", foundSerial: serialOf("QP") })).toBe(2);
});

test("until somebody has settled which pack it is, the larger of the two counts", () => {
  expect(kwh({ foundSerial: serialOf("TB") })).toBe(4);
  expect(kwh({ foundSerial: serialOf("QP") })).toBe(3);
});

test("a pack that cannot be read, or is of a model nobody knows, counts as the largest there is", () => {
  expect(kwh({ is: "other-pack" })).toBe(4);
  expect(kwh({})).toBe(4);
  expect(kwh({ is: "other-pack", foundSerial: serialOf("ZZ") })).toBe(4);
});
