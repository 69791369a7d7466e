import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { mintActor, type Role, roles } from "@/lib/access/actor";
import { type Act, acts, may } from "@/lib/access/may";

const actorOf = (role: Role) =>
  mintActor({ userId: "u1", name: "Somebody", role, dealerId: role === "dealer" ? "d1" : null });

// Written out once more by hand, so that a slip in the table must be made twice: d dealer, s service, m manager.
const expected: Readonly<Record<Act, string>> = {
  "lodge-return": "d - -",
  "withdraw-return": "d - -",
  "upload-readings": "d - -",
  "read-readings": "d s m",
  "read-build-record": "- s m",
  "read-queue": "- s m",
  "take-return": "- s -",
  "decide-return": "- s -",
  "read-reliability": "- - m",
  "export-reliability": "- - m",
};

test.for(acts.map((act) => ({ act })))("who may $act is as written", ({ act }) => {
  expect(roles.map((role) => (may(actorOf(role), act) ? role.charAt(0) : "-")).join(" ")).toBe(expected[act]);
});

test("whoever reads the failure rate writes nothing it is counted from", () => {
  const readers = roles.filter((role) => may(actorOf(role), "read-reliability"));
  expect(readers).toEqual(["manager"]);
  for (const act of ["lodge-return", "withdraw-return", "upload-readings", "take-return", "decide-return"] as const) {
    expect(readers.some((role) => may(actorOf(role), act))).toBe(false);
  }
});

/** What the code really asks: `may(actor, "…")`, and the acts that the table of moves names. */
function actsAskedIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .flatMap((name) => [
      ...readFileSync(path.join(folder, name), "utf8").matchAll(/\b(?:may\(\w+, |act: )"([a-z-]+)"/g),
    ])
    .flatMap(([, act]) => (act === undefined ? [] : [act]));
}

test("every act of the table is asked about somewhere, and nothing else is", () => {
  const asked = ["app", "lib/data", "lib/returns"].flatMap(actsAskedIn);
  expect([...new Set(asked)].sort()).toEqual([...acts].sort());
});

test("a dealer without a dealer id, and anyone else with one, is nobody", () => {
  for (const dealerId of [null, ""]) {
    expect(() => mintActor({ userId: "u1", name: "X", role: "dealer", dealerId })).toThrow(RangeError);
  }
  for (const role of ["service", "manager"] as const) {
    expect(() => mintActor({ userId: "u1", name: "X", role, dealerId: "d1" })).toThrow(RangeError);
  }
});
