import { expect, test } from "vitest";
import { program, roles } from "@/lib/access/actor";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { ownSteps } from "@/lib/returns/next-steps";
import { type MoveRequest, moveReturn, openMoves, whatStandsInTheWay } from "@/lib/returns/return-moves";
import type { ReturnStanding } from "@/lib/returns/return-standing";
import { returnStatuses } from "@/lib/returns/return-status";
import { actorOf } from "./any-actor";
import { allStated, fullPast, proposal, repair, standing } from "./any-standing";

const request = (name: MoveName, over: Partial<MoveRequest> = {}): MoveRequest => ({
  name,
  reason: "The bench test shows it.",
  seenVersion: 3,
  stated: allStated,
  // One that can be proposed from everywhere, also of a pack nobody has tested.
  ...(name === "propose" ? { decision: { ...repair, remedy: "isolate" as const } } : {}),
  ...(name === "solve-remotely" ? { decision: { ...repair, remedy: "remote-fix" as const } } : {}),
  ...over,
});

/** The standing in which a move finds all it needs; the status is the test's. */
function ready(name: MoveName): Partial<ReturnStanding> {
  const second = { ...proposal, firstApprovalByUserId: "a lead", firstApprovalByName: "A lead" };
  switch (name) {
    case "approve-as-second":
      return { secondPerson: ["goodwill"], past: { ...fullPast, proposal: second } };
    case "ready-without-work":
      return { decidedRemedy: "return-as-is" };
    case "reopen":
      return { decidedRemedy: "isolate" };
    case "take-up-again":
      return { past: { ...fullPast, lapsedFrom: "more-information-needed", askedBeforeLapse: "in-review" } };
    case "approve-return":
    case "hand-to-carrier":
    case "come-back":
    case "renew-approval":
    case "propose-lapse":
    case "lapse-unanswered":
    case "solve-remotely":
    case "merge":
    case "withdraw":
      return { custody: "with-dealer" };
    default:
      return {};
  }
}

// The table spelled out once more by hand (states and conditions: common practice of the trade, no single source).
// d dealer, a dealer's own administrator, t technician, l service lead, m manager, s safety officer
const legal: Readonly<Record<MoveName, { from: string; to: string; who: string }>> = {
  draft: { from: "null", to: "draft", who: "d a t l" },
  lodge: { from: "null draft", to: "sent-in", who: "d a t l" },
  take: { from: "sent-in", to: "in-review", who: "t l" },
  "take-over": { from: "in-review", to: "in-review", who: "t l" },
  ask: { from: "sent-in in-review remote-help under-test", to: "more-information-needed", who: "t l" },
  remind: { from: "more-information-needed", to: "more-information-needed", who: "t l" },
  answer: { from: "more-information-needed", to: "under-test", who: "d a t l" },
  "prove-sale": {
    from: "sent-in in-review remote-help under-test more-information-needed return-approved return-expected at-the-works decision-proposed decided work-in-progress ready-to-hand-back handed-back",
    to: "itself",
    who: "t l",
  },
  // Between proofs at odds, by the lead alone.
  "choose-proof": {
    from: "sent-in in-review remote-help under-test more-information-needed return-approved return-expected at-the-works decision-proposed decided work-in-progress ready-to-hand-back handed-back",
    to: "itself",
    who: "l",
  },
  // While nothing is proposed on the readings before.
  "add-readings": {
    from: "sent-in in-review remote-help under-test more-information-needed return-approved return-expected at-the-works",
    to: "itself",
    who: "d a t l",
  },
  // By the program at its time, and by nobody else.
  "propose-lapse": { from: "more-information-needed", to: "more-information-needed", who: "" },
  "lapse-unanswered": { from: "more-information-needed", to: "lapsed", who: "t l" },
  // Where the question was asked that nobody had answered.
  "take-up-again": { from: "lapsed", to: "in-review", who: "d a t l" },
  help: { from: "in-review", to: "remote-help", who: "t l" },
  "confirm-help": { from: "remote-help", to: "remote-help", who: "d a" },
  "solve-remotely": { from: "remote-help", to: "solved-remotely", who: "t l" },
  "reopen-solved": { from: "solved-remotely", to: "in-review", who: "d a t l" },
  // Once a lead, a manager or the safety officer has declared the class.
  "approve-return": { from: "in-review remote-help decided", to: "return-approved", who: "t l" },
  "hand-to-carrier": { from: "return-approved", to: "return-expected", who: "d a" },
  // The carrier brought it back to the dealer.
  "come-back": { from: "return-expected", to: "return-approved", who: "d a t l" },
  "lapse-approval": { from: "return-approved", to: "lapsed", who: "t l" },
  "renew-approval": { from: "lapsed", to: "return-approved", who: "t l" },
  // The others are packs that came in unannounced.
  receive: { from: "return-expected return-approved in-review remote-help lapsed", to: "at-the-works", who: "t l" },
  // By the entry at goods-in that settles which pack came.
  "await-again": { from: "at-the-works", to: "return-approved", who: "t l" },
  "start-test": { from: "at-the-works in-review", to: "under-test", who: "t l" },
  propose: {
    from: "in-review remote-help return-approved return-expected at-the-works under-test work-in-progress",
    to: "decision-proposed",
    who: "t l",
  },
  approve: { from: "decision-proposed", to: "decided", who: "l m" },
  "approve-as-second": { from: "decision-proposed", to: "decided", who: "m" },
  "send-back": { from: "decision-proposed", to: "under-test", who: "l m" },
  veto: { from: "decision-proposed", to: "under-test", who: "s" },
  "start-work": { from: "decided", to: "work-in-progress", who: "t l" },
  "ready-without-work": { from: "decided", to: "ready-to-hand-back", who: "t l" },
  "finish-work": { from: "work-in-progress", to: "ready-to-hand-back", who: "t l" },
  "give-letter": {
    from: "decided work-in-progress ready-to-hand-back handed-back",
    to: "itself",
    who: "d a t l",
  },
  "hand-back": { from: "ready-to-hand-back", to: "handed-back", who: "d a t l" },
  close: { from: "handed-back", to: "closed", who: "m" },
  object: { from: "decided work-in-progress ready-to-hand-back handed-back closed", to: "in-review", who: "d a t l" },
  reopen: { from: "closed decided ready-to-hand-back", to: "in-review", who: "l m" },
  merge: { from: "sent-in in-review", to: "merged", who: "t l" },
  withdraw: {
    from: "draft sent-in more-information-needed in-review remote-help return-approved",
    to: "withdrawn",
    who: "d a t l",
  },
};
const letters = "d a t l m s f x".split(" ");

test.for(moveNames.map((name) => ({ name })))(
  "of all statuses and roles exactly the listed ones make the move $name",
  ({ name }) => {
    const { from, to, who } = legal[name];
    for (const status of [null, ...returnStatuses]) {
      roles.forEach((role, index) => {
        const outcome = moveReturn(actorOf(role), standing({ status, ...ready(name) }), request(name));
        const isLegal = from.split(" ").includes(String(status)) && who.split(" ").includes(letters[index] ?? "");
        const at = `${role} from ${status}`;
        if (isLegal)
          expect(outcome, at).toMatchObject({
            kind: "moved",
            from: status,
            to: to === "itself" ? status : to,
            version: 4,
          });
        else expect(outcome, at).toMatchObject({ kind: "refused" });
      });
    }
  },
);

test("the forms offered are the moves that go through, and the others say why", () => {
  for (const status of returnStatuses) {
    for (const role of roles) {
      const here = standing({ status });
      const offered = ownSteps(actorOf(role), here).filter(({ whyNot }) => whyNot === null);
      const possible = openMoves(actorOf(role), here).filter(
        (name) => moveReturn(actorOf(role), here, request(name)).kind === "moved",
      );
      expect(
        offered.map(({ name }) => name),
        `${status} ${role}`,
      ).toEqual(possible);
      for (const { whyNot } of ownSteps(actorOf(role), here)) if (whyNot !== null) expect(whyNot).toMatch(/[.]$/);
    }
  }
});

test("a dealer moves no return of another dealer", () => {
  expect(moveReturn(actorOf("dealer", "d2"), standing(), request("withdraw"))).toMatchObject({ why: "not-allowed" });
});

test("a move on an older or newer version is refused, whatever else is wrong with it", () => {
  for (const seenVersion of [2, 4]) {
    const why = "someone-changed-this";
    expect(moveReturn(actorOf("technician"), standing(), request("take", { seenVersion }))).toMatchObject({ why });
    const decided = standing({ status: "decided" });
    expect(moveReturn(actorOf("technician"), decided, request("take", { seenVersion }))).toMatchObject({ why });
  }
});

test("moves that a later reader must understand need a reason", () => {
  const withoutReason = moveNames.filter((name) => {
    const from = legal[name].from.split(" ")[0] ?? "";
    const status = returnStatuses.find((known) => known === from) ?? null;
    const role = roles[letters.indexOf(legal[name].who.split(" ")[0] ?? "")] ?? "dealer";
    const asked = request(name, { reason: " \n" });
    const mover = legal[name].who === "" ? program : actorOf(role);
    return moveReturn(mover, standing({ status, ...ready(name) }), asked).kind === "moved";
  });
  expect(withoutReason).toEqual([
    "draft",
    "lodge",
    "take",
    "remind",
    "propose-lapse",
    "hand-to-carrier",
    "receive",
    "start-test",
    "approve",
    "start-work",
    "ready-without-work",
    "give-letter",
    "hand-back",
    "close",
  ]);
});

test("what stands in the way is said before a form is filled in", () => {
  const apart = standing({ status: "return-approved", safety: "isolate" });
  expect(whatStandsInTheWay(actorOf("dealer"), apart, "hand-to-carrier")).toBe("safety-open");
  const packed = standing({ status: "return-approved", custody: "with-customer" });
  expect(whatStandsInTheWay(actorOf("dealer"), packed, "hand-to-carrier")).toBeNull();
});
