import { expect, test } from "vitest";
import { mintActor, type Role, roles } from "@/lib/access/actor";
import { type Act, acts, may } from "@/lib/access/may";

const actorOf = (role: Role) =>
  mintActor({ userId: "u1", name: "Somebody", role, dealerId: role === "dealer" ? "d1" : null });

// Written out once more by hand, so that a slip in the table must be made twice: d dealer, s service, m manager.
const expected: Readonly<Record<Act, string>> = {
  "lodge-return": "d s -",
  "read-return": "d s m",
  "withdraw-return": "d s -",
  "upload-readings": "d s -",
  "read-readings": "d s m",
  "read-pack-summary": "d s m",
  "read-build-record": "- s m",
  "read-queue": "- s m",
  "take-return": "- s -",
  "decide-return": "- s -",
  "record-repair": "- s -",
  "send-replacement": "- s -",
  "raise-safety": "d s m",
  "lower-safety": "- - m",
  "move-custody": "d s m",
  "read-reliability": "- - m",
  "read-affected-set": "- s m",
  "freeze-affected-set": "- - m",
  "export-reliability": "- - m",
};

test.for(acts.map((act) => ({ act })))("who may $act is as written", ({ act }) => {
  expect(roles.map((role) => (may(actorOf(role), act) ? role.charAt(0) : "-")).join(" ")).toBe(expected[act]);
});

test("anyone may raise a danger sign, and whoever decides returns may not lower one", () => {
  expect(roles.every((role) => may(actorOf(role), "raise-safety"))).toBe(true);
  expect(roles.some((role) => may(actorOf(role), "decide-return") && may(actorOf(role), "lower-safety"))).toBe(false);
});

test("a dealer without a dealer id, and anyone else with one, is nobody", () => {
  for (const dealerId of [null, ""]) {
    expect(() => mintActor({ userId: "u1", name: "X", role: "dealer", dealerId })).toThrow(RangeError);
  }
  for (const role of ["service", "manager"] as const) {
    expect(() => mintActor({ userId: "u1", name: "X", role, dealerId: "d1" })).toThrow(RangeError);
  }
});
