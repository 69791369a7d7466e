import { expect, test } from "vitest";
import { roles } from "@/lib/access/actor";
import {
  type MoveName,
  type MoveRequest,
  moveNames,
  moveReturn,
  openMoves,
  type ReturnStanding,
  returnStatuses,
} from "@/lib/returns/return-moves";
import { actorOf } from "./any-actor";

const standing = (over: Partial<ReturnStanding> = {}): ReturnStanding => ({
  status: "sent-in",
  version: 3,
  dealerId: "d1",
  isSafetyOpen: false,
  ...over,
});
const request = (name: MoveName, over: Partial<MoveRequest> = {}): MoveRequest => ({
  name,
  reason: "The bench test shows it.",
  seenVersion: 3,
  ...(name === "decide" ? { remedy: "repair" as const } : {}),
  ...over,
});

// The whole table spelled out: what is not listed must be refused.
const legal: Readonly<Record<string, string>> = {
  "null lodge dealer": "sent-in",
  "null lodge dealer-admin": "sent-in",
  "sent-in take technician": "in-review",
  "sent-in take service-lead": "in-review",
  "in-review decide technician": "decided",
  "in-review decide service-lead": "decided",
  "sent-in withdraw dealer": "withdrawn",
  "sent-in withdraw dealer-admin": "withdrawn",
  "sent-in withdraw technician": "withdrawn",
  "sent-in withdraw service-lead": "withdrawn",
  "in-review withdraw dealer": "withdrawn",
  "in-review withdraw dealer-admin": "withdrawn",
  "in-review withdraw technician": "withdrawn",
  "in-review withdraw service-lead": "withdrawn",
};

test("of all statuses, moves and roles exactly the listed ones are open", () => {
  const found: Record<string, string> = {};
  for (const status of [null, ...returnStatuses]) {
    for (const name of moveNames) {
      for (const role of roles) {
        const outcome = moveReturn(actorOf(role), standing({ status }), request(name));
        if (outcome.kind === "moved") found[`${status} ${name} ${role}`] = outcome.to;
      }
    }
  }
  expect(found).toEqual(legal);
});

test("the moves offered are the moves that go through", () => {
  for (const status of [null, ...returnStatuses]) {
    for (const role of roles) {
      const offered = openMoves(actorOf(role), standing({ status }));
      const possible = moveNames.filter(
        (name) => moveReturn(actorOf(role), standing({ status }), request(name)).kind === "moved",
      );
      expect(offered, `${status} ${role}`).toEqual(possible);
    }
  }
});

test("a move raises the version by one and keeps where it came from", () => {
  expect(moveReturn(actorOf("technician"), standing(), request("take"))).toEqual({
    kind: "moved",
    from: "sent-in",
    to: "in-review",
    version: 4,
  });
});

test("a dealer moves no return of another dealer", () => {
  expect(moveReturn(actorOf("dealer", "d2"), standing(), request("withdraw"))).toMatchObject({
    kind: "refused",
    why: "not-allowed",
  });
});

test("a move on an older version is refused, whatever else is wrong with it", () => {
  for (const seenVersion of [2, 4]) {
    expect(moveReturn(actorOf("technician"), standing(), request("take", { seenVersion }))).toMatchObject({
      kind: "refused",
      why: "someone-changed-this",
    });
  }
  expect(
    moveReturn(actorOf("technician"), standing({ status: "decided" }), request("take", { seenVersion: 2 })),
  ).toMatchObject({ why: "someone-changed-this" });
});

test("deciding and withdrawing need a reason, taking does not", () => {
  const reason = "  \n";
  expect(
    moveReturn(actorOf("technician"), standing({ status: "in-review" }), request("decide", { reason })),
  ).toMatchObject({ why: "reason-missing" });
  expect(moveReturn(actorOf("dealer"), standing(), request("withdraw", { reason }))).toMatchObject({
    why: "reason-missing",
  });
  expect(moveReturn(actorOf("technician"), standing(), request("take", { reason })).kind).toBe("moved");
});

test("a decision needs a remedy", () => {
  expect(
    moveReturn(actorOf("technician"), standing({ status: "in-review" }), request("decide", { remedy: undefined })),
  ).toMatchObject({ why: "remedy-missing" });
});

test("with a danger sign open a pack is neither handed back untouched nor forgotten, but may be isolated", () => {
  const open = standing({ status: "in-review", isSafetyOpen: true });
  const decide = (remedy: MoveRequest["remedy"]) =>
    moveReturn(actorOf("technician"), open, request("decide", { remedy }));
  expect(decide("return-as-is")).toMatchObject({ why: "safety-open" });
  expect(decide("remote-fix")).toMatchObject({ why: "safety-open" });
  for (const remedy of ["isolate", "repair", "replace"] as const) expect(decide(remedy).kind, remedy).toBe("moved");
  expect(moveReturn(actorOf("dealer"), open, request("withdraw"))).toMatchObject({ why: "safety-open" });
});
