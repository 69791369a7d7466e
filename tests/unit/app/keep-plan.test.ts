import { expect, test } from "vitest";
import { waitBeforeKeeping } from "@/app/(dealer)/dealer/returns/new/keep-plan";

const occasions = ["changed", "online", "failed"] as const;

test("answers that did not reach the server are sent again when the network comes back, and every half minute until then", () => {
  const smoke = { current: "smoke", reached: null, isShut: false };
  expect(waitBeforeKeeping(smoke, "online")).toBe(0);
  expect(waitBeforeKeeping(smoke, "failed")).toBe(30_000);
  expect(waitBeforeKeeping({ ...smoke, reached: "nothing yet" }, "failed")).toBe(30_000);
});

test("what changed is sent after a short quiet, and what the server has is not sent again", () => {
  expect(waitBeforeKeeping({ current: "smoke", reached: "nothing yet", isShut: false }, "changed")).toBe(1500);
  for (const occasion of occasions) {
    expect(waitBeforeKeeping({ current: "smoke", reached: "smoke", isShut: false }, occasion)).toBeNull();
    expect(waitBeforeKeeping({ current: null, reached: null, isShut: false }, occasion)).toBeNull();
  }
});

test("a tab that another tab or device went on from sends nothing by itself", () => {
  for (const occasion of occasions)
    expect(waitBeforeKeeping({ current: "smoke", reached: null, isShut: true }, occasion)).toBeNull();
});
