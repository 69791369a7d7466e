import { expect, test } from "vitest";
import {
  firstOpenStep,
  questions,
  reachableStep,
  stepAfter,
  stepAsking,
  stepBefore,
  stepsFor,
} from "@/app/(dealer)/dealer/returns/new/steps";
import { makeSerial } from "@/lib/packs/serial";
import { type LodgeReturnInput, lodgeReturnSchema } from "@/lib/returns/lodge-return.schema";

const serial = makeSerial({ model: "TR", buildYear: 2024, buildWeek: 17, sequence: 392 });
const soldPack = { serial, saleKnown: true };
const unsoldPack = { serial, saleKnown: false };

const complete: LodgeReturnInput = {
  clientKey: "0190f3c2-7b1a-7c3e-9a55-2f6f0c1d2e3f",
  dangerSigns: ["none-of-these"],
  serial,
  soldOnStated: "",
  soldOnEvidence: "",
  noticedOn: "2026-03-01",
  toldOn: "2026-03-02",
  concern: "Schaltet am Berg ab",
  symptom: "cuts-out-under-load",
  conditions: [],
  readingFileId: "",
  noFileReason: "later",
};

test("danger comes before everything else and checking comes last", () => {
  const steps = stepsFor(unsoldPack);
  expect(steps.slice(0, 2)).toEqual(["danger", "serial"]);
  expect(steps.at(-1)).toBe("check");
});

test("the day of the sale is asked only where nobody recorded it", () => {
  expect(stepsFor(soldPack)).not.toContain("sale");
  expect(stepAfter("serial", soldPack)).toBe("dates");
  expect(stepBefore("dates", soldPack)).toBe("serial");
  expect(stepAfter("serial", unsoldPack)).toBe("sale");
});

test("every answer of the form is asked at a step of its own, save the key", () => {
  const answers = lodgeReturnSchema.keyof().options.filter((answer) => answer !== "clientKey");
  expect(answers.filter((answer) => stepAsking(answer) === "check")).toEqual([]);
  expect(Object.values(questions).every((question) => question.length > 0)).toBe(true);
});

test("an address cannot lead past a question that is still open", () => {
  const untold = { ...complete, toldOn: "" };
  expect(reachableStep("check", untold, soldPack)).toBe("dates");
  expect(reachableStep("check", complete, soldPack)).toBe("check");
  expect(reachableStep("serial", untold, soldPack)).toBe("serial");
});

test("a serial that was typed but not found keeps the form at the serial", () => {
  expect(firstOpenStep(complete, null)).toBe("serial");
  expect(reachableStep("check", complete, null)).toBe("serial");
});

test("an unknown step in the address begins at the beginning", () => {
  expect(reachableStep("../../etc", complete, soldPack)).toBe("danger");
  expect(reachableStep(null, complete, soldPack)).toBe("danger");
});

test("a day of sale without its evidence is still open", () => {
  expect(firstOpenStep({ ...complete, soldOnStated: "2025-01-05" }, unsoldPack)).toBe("sale");
  expect(firstOpenStep({ ...complete, soldOnStated: "2025-01-05", soldOnEvidence: "till-record" }, unsoldPack)).toBe(
    "check",
  );
});
