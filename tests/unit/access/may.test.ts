import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";
import { isDealerRole, mintActor, type Role, roles } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";

const actorOf = (role: Role) =>
  mintActor({ userId: "u1", name: "Somebody", role, dealerId: isDealerRole(role) ? "d1" : null });

// Written out once more by hand, so that a slip in the table must be made twice; separation of duties and least
// privilege as the trade practises them (common practice, no source).
// d dealer, a dealer's own administrator, t technician, l service lead, m manager, s safety officer, f finance, x administrator
const letters = "d a t l m s f x".split(" ");
const expected: Readonly<Record<Act, string>> = {
  "read-own-returns": "d a - - - - - -",
  "lodge-return": "d a - - - - - -",
  "lodge-on-behalf": "- - t l - - - -",
  "answer-question": "d a t l - - - -",
  "withdraw-return": "d a t l - - - -",
  "confirm-at-counter": "d a - - - - - -",
  "object-to-decision": "d a t l - - - -",
  "add-readings": "d a t l - - - -",
  "withdraw-columns": "d a t l - - - -",
  "upload-readings": "d a - - - - - -",
  "export-own-returns": "d a - - - - - -",
  "read-queue": "- - t l m s - -",
  "read-cases-for-money": "- - - - - - f -",
  "read-readings": "d a t l m s - -",
  "read-build-record": "- - t l m s - -",
  "export-returns": "- - - l m s - -",
  "read-told": "- - t l m s f x",
  "read-own-contact": "d a - - - - - -",
  "reveal-contact": "- - - l - s - -",
  "read-reveals": "- - - l m s - -",
  "read-exports": "- - - - m - - x",
  "take-return": "- - t l - - - -",
  "ask-dealer": "- - t l - - - -",
  "confirm-proof": "- - t l - - - -",
  "choose-proof": "- - - l - - - -",
  "help-remotely": "- - t l - - - -",
  "approve-return": "- - t l - - - -",
  "receive-pack": "- - t l - - - -",
  "test-pack": "- - t l - - - -",
  "propose-decision": "- - t l - - - -",
  "approve-decision": "- - - l - - - -",
  "approve-as-second": "- - - - m - - -",
  "veto-decision": "- - - - - s - -",
  "work-on-pack": "- - t l - - - -",
  "release-pack": "- - t l - - - -",
  "close-return": "- - - - m - - -",
  "state-nothing-owed": "- - - l m - f -",
  "merge-returns": "- - t l - - - -",
  "lapse-return": "- - t l - - - -",
  "reopen-return": "- - - l m - - -",
  "set-legal-hold": "- - - - m - - -",
  "propose-transport-class": "- - t l m s - -",
  "set-transport-class": "- - - l m s - -",
  "raise-safety": "d a t l m s f x",
  "lower-safety": "- - - - - s - -",
  "confirm-transport-rules": "- - - - - s - -",
  "propose-transport-rules": "- - - - m s - -",
  "propose-holidays": "- - - - m s - -",
  "approve-holidays": "- - - - m s - -",
  "approve-transport-rules": "- - - - m s - -",
  "read-incidents": "- - - l m s - -",
  "acknowledge-incident": "- - - - - s - -",
  "keep-incident": "- - - - - s - -",
  "set-quarantine-places": "- - - - - s - -",
  "propose-affected-set": "- - - l m s - -",
  "create-affected-set": "- - - - m s - -",
  "stop-ship": "- - - - m s - -",
  "propose-known-issue": "- - - l m s - -",
  "approve-known-issue": "- - - - m s - -",
  "read-own-money": "d a - - - - - -",
  "read-money": "- - - l m - f -",
  "claim-money": "d a t l - - - -",
  "check-money": "- - - - - - f -",
  "approve-money": "- - - - m - f -",
  "export-money": "- - - - - - f -",
  "open-supplier-claim": "- - - - m - - -",
  "claim-from-supplier": "- - - - m - f -",
  "record-supplier-payment": "- - - - - - f -",
  "write-off-supplier": "- - - - m - - -",
  "import-sales": "- - - - m - - -",
  "read-policies": "- - - - m s - -",
  "propose-policy": "- - - - m - - -",
  "approve-policy": "- - - - m - - -",
  "propose-law": "- - - - m - - -",
  "approve-law": "- - - - m - - -",
  "confirm-law": "- - - - m - - -",
  "set-rates": "- - - - - - f -",
  "deploy-policy": "- - - - - - - x",
  "propose-test-plan": "- - - l m - - -",
  "approve-test-plan": "- - - - m - - -",
  "propose-thresholds": "- - - l m - - -",
  "approve-thresholds": "- - - - m - - -",
  "keep-instruments": "- - t l - - - -",
  "waive-no-fault-protocol": "- - - l - - - -",
  "read-reliability": "- - - - m - - -",
  "export-reliability": "- - - - m - - -",
  "read-signals": "- - - - m s - -",
  "read-forecast": "- - - - m - f -",
  "export-forecast": "- - - - m - f -",
  "propose-cost": "- - - - m - - -",
  "approve-cost": "- - - - m - - -",
  "keep-forecast": "- - - - m - - -",
  "manage-own-dealer-accounts": "- a - - - - - -",
  "manage-staff-accounts": "- - - - m - - -",
  "manage-all-accounts": "- - - - - - - x",
  "keep-dealers": "- - - - - - - x",
  "look-in-emergency": "- - - - - - - x",
  "read-emergency-looks": "- - - - m - - x",
};
const acts = Object.keys(expected).filter((act): act is Act => act in expected);

test.for(acts.map((act) => ({ act })))("who may $act is as written", ({ act }) => {
  const found = roles.map((role, index) => (may(actorOf(role), act) ? letters[index] : "-")).join(" ");
  expect(found).toBe(expected[act]);
});

test("whoever reads the failure rate writes nothing it is counted from", () => {
  const readers = roles.filter((role) => may(actorOf(role), "read-reliability"));
  expect(readers).toEqual(["manager"]);
  for (const act of [
    "lodge-return",
    "withdraw-return",
    "upload-readings",
    "take-return",
    "propose-decision",
  ] as const) {
    expect(readers.some((role) => may(actorOf(role), act))).toBe(false);
  }
});

test("a named deputy lowers safety flags, acknowledges and keeps incidents, and gets nothing else by it", () => {
  const deputy = mintActor({ userId: "u1", name: "X", role: "technician", dealerId: null, isSafetyDeputy: true });
  const gained = acts.filter((act) => may(deputy, act) && !may(actorOf("technician"), act));
  expect(gained).toEqual(["lower-safety", "acknowledge-incident", "keep-incident"]);
  expect(() => mintActor({ userId: "u1", name: "X", role: "dealer", dealerId: "d1", isSafetyDeputy: true })).toThrow(
    RangeError,
  );
});

/** What the code really asks: `may(actor, "…")`, `requireActor("…")`, and the acts that the table of moves names. */
function actsAskedIn(folder: string): string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => /\.tsx?$/.test(name))
    .flatMap((name) => [
      ...readFileSync(path.join(folder, name), "utf8").matchAll(
        /\b(?:may\(\w+, |act: |requireActor\((?:"[a-z-]+", )*)"([a-z-]+)"/g,
      ),
    ])
    .flatMap(([, act]) => (act === undefined ? [] : [act]));
}

test("nothing is asked about that the table does not hold", () => {
  const asked = ["app", "lib/data", "lib/returns"].flatMap(actsAskedIn);
  expect(asked.filter((act) => !(act in expected))).toEqual([]);
});

test("a dealer without a dealer id, and anyone else with one, is nobody", () => {
  for (const dealerId of [null, ""]) {
    expect(() => mintActor({ userId: "u1", name: "X", role: "dealer", dealerId })).toThrow(RangeError);
  }
  for (const role of roles.filter((one) => !isDealerRole(one))) {
    expect(() => mintActor({ userId: "u1", name: "X", role, dealerId: "d1" })).toThrow(RangeError);
  }
});
