import { expect, test } from "vitest";
import { nothingKnown } from "@/lib/returns/return-facts";
import { fieldsOf } from "@/lib/returns/step-fields";

const asked = (...given: Parameters<typeof fieldsOf>) => fieldsOf(...given).map(({ key }) => key);

test("the form that starts the work asks what the decision needs and nothing of another one", () => {
  expect(asked("start-work", nothingKnown, "repair")).toEqual(["partsAndPlan"]);
  expect(asked("start-work", nothingKnown, "dispose")).toEqual(["partsAndPlan"]);
  expect(asked("start-work", nothingKnown, "replace")).toEqual(["reservedSerial"]);
  expect(asked("start-work", { ...nothingKnown, reservedSerial: "GW26390001Y" }, "replace")).toEqual([]);
});

test("only a disposal asks who took the pack away at the dealer's", () => {
  expect(asked("finish-work", nothingKnown, "replace")).toEqual(["releaseSignature"]);
  expect(asked("finish-work", nothingKnown, "dispose")).toEqual(["releaseSignature", "takenAwayBy"]);
});
