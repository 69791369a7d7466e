import { expect, test } from "vitest";
import { ownSteps } from "@/lib/returns/next-steps";
import { returnStatusWords } from "@/lib/returns/return-status";
import { actorOf } from "./any-actor";
import { standing } from "./any-standing";

test("where nothing is given back no word says that it was", () => {
  for (const remedy of ["dispose", "refund"] as const) {
    for (const status of ["ready-to-hand-back", "handed-back"] as const)
      expect(returnStatusWords(status, remedy), `${status} ${remedy}`).not.toMatch(/hand/i);
    const own = ownSteps(actorOf("dealer"), standing({ status: "ready-to-hand-back", decidedRemedy: remedy }));
    expect(own.find(({ name }) => name === "hand-back")?.label).not.toMatch(/hand/i);
  }
  expect(returnStatusWords("handed-back", "repair")).toBe("Handed back");
});
