import { expect, test } from "vitest";
import { whyNotJoined } from "@/lib/returns/join-returns";
import { endedStatuses, openStatuses } from "@/lib/returns/return-status";

const own = { dealerId: "d1" };
const chain = new Set(["this pack", "its replacement"]);
const other = (over: object) => ({ dealerId: "d1", packId: "its replacement", status: "in-review" as const, ...over });

test("a return goes on in an open one of the same dealer about the same pack, or one in its chain of replacements", () => {
  for (const packId of chain) {
    for (const status of openStatuses) expect(whyNotJoined(own, other({ packId, status }), chain), status).toBeNull();
  }
  expect(whyNotJoined(own, other({ dealerId: "d2" }), chain)).toBe("duplicate-elsewhere");
  expect(whyNotJoined(own, other({ packId: "a third" }), chain)).toBe("duplicate-of-another-pack");
});

test("nothing goes on in a return that has ended, so that two are never joined in a ring", () => {
  for (const status of [...endedStatuses, "draft"] as const) {
    expect(whyNotJoined(own, other({ status }), chain), status).toBe("duplicate-ended");
  }
});
