import { expect, test } from "vitest";
import { program } from "@/lib/access/actor";
import { waitsForTheHouse } from "@/lib/returns/class-refusal";
import { dueMove, endsSoon } from "@/lib/returns/due-moves";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { nothingKnown } from "@/lib/returns/return-facts";
import { moveReturn } from "@/lib/returns/return-moves";
import type { ReturnStanding } from "@/lib/returns/return-standing";
import { returnStatuses } from "@/lib/returns/return-status";
import type { WhoseTurn } from "@/lib/returns/return-turn";
import { allStated, fullPast, standing } from "./any-standing";

const now = new Date("2026-10-05T09:00:00Z");
const question = fullPast.question;
if (question === null) throw new Error("the past holds a question");
const asked = (over: Partial<typeof question>, more: Partial<ReturnStanding> = {}) =>
  standing({
    status: "more-information-needed",
    custody: "with-dealer",
    past: { ...fullPast, question: { ...question, ...over } },
    ...more,
  });
const nameOf = (here: ReturnStanding, turn: WhoseTurn = "dealer") => dueMove(here, turn)?.name ?? null;

const declared = { ...nothingKnown, transportClass: "damaged", rulesStand: true };
const toBeSent = (sendingEndsAt: string | null, more: Partial<ReturnStanding> = {}) =>
  standing({ status: "return-approved", known: { ...declared, sendingEndsAt }, ...more });

test("a question is repeated after the set days, as often as is set, then proposed to lapse and left to service", () => {
  expect(nameOf(asked({ reminders: 0, lastAskedAt: "2026-10-02T08:59:59Z" }))).toBe("remind");
  expect(nameOf(asked({ reminders: 0, lastAskedAt: "2026-10-02T09:00:00Z" }))).toBeNull();
  expect(nameOf(asked({ reminders: 1 }))).toBe("remind");
  expect(nameOf(asked({ reminders: 2 }))).toBe("propose-lapse");
  expect(nameOf(asked({ reminders: 2, dueOn: "2026-10-05" }))).toBeNull();
  expect(nameOf(asked({ reminders: 2, lapseProposedAt: "2026-10-04T09:00:00Z" }))).toBeNull();
});

test("a pack that is set apart never lapses, but its dealer is still reminded", () => {
  for (const safety of ["isolate", "do-not-move", "incident-open"] as const) {
    expect(nameOf(asked({ reminders: 2 }, { safety }))).toBeNull();
    expect(nameOf(asked({ reminders: 0 }, { safety }))).toBe("remind");
    expect(nameOf(toBeSent("2026-10-01T00:00:00Z", { safety }))).toBeNull();
  }
});

test("a question about a pack that lies here never lapses the return: service goes on without the answer", () => {
  for (const custody of ["quarantine", "bench", "workshop", "with-carrier-in"] as const) {
    expect(nameOf(asked({ reminders: 2 }, { custody })), custody).toBeNull();
    expect(nameOf(asked({ reminders: 0 }, { custody })), custody).toBe("remind");
  }
});

test("a permission to send ends with its own day, and only while the dealer could have used it", () => {
  const until = (sendingEndsAt: string | null) => toBeSent(sendingEndsAt);
  expect(nameOf(until("2026-10-05T08:59:00Z"))).toBe("lapse-approval");
  expect(nameOf(until("2026-10-05T09:00:00Z"))).toBeNull();
  expect(nameOf(until(null))).toBeNull();
  const over = "2026-10-05T08:59:00Z";
  expect(nameOf(until(over), "maker")).toBeNull();
  for (const lack of [{ transportClass: null }, { transportClass: "do-not-ship" }, { rulesStand: false }] as const) {
    const waits = standing({ status: "return-approved", known: { ...declared, ...lack, sendingEndsAt: over } });
    expect(nameOf(waits), JSON.stringify(lack)).toBeNull();
    expect(waitsForTheHouse(waits)).toBe(true);
  }
  for (const lack of [{ evidenceStands: false }, { isHeldUnseen: true }])
    expect(
      nameOf(standing({ status: "return-approved", known: { ...declared, ...lack, sendingEndsAt: over } })),
    ).toBeNull();
  expect(waitsForTheHouse(until(over))).toBe(false);
  expect([
    endsSoon(until("2026-10-08T09:00:00Z")),
    endsSoon(until("2026-10-08T09:00:01Z")),
    endsSoon(until("2026-10-05T08:00:00Z")),
    endsSoon(until(null)),
  ]).toEqual([true, false, false, false]);
});

test("a return under which something of ours is out does not lapse with its permission to send; the house has the turn", () => {
  for (const out of [{ loanIsOut: true }, { unitIsOut: true }]) {
    const known = { ...declared, sendingEndsAt: "2026-10-05T08:59:00Z", ...out };
    const here = standing({ status: "return-approved", known });
    expect([nameOf(here), waitsForTheHouse(here)]).toEqual([null, true]);
  }
});

test("a return on which something is to come back does not lapse with its permission to send; the house has the turn", () => {
  const awaiting = (sendingEndsAt: string) =>
    standing({ status: "return-approved", known: { ...declared, sendingEndsAt, awaitedBackBy: "2026-11-20" } });
  const over = awaiting("2026-10-05T08:59:00Z");
  expect(nameOf(over)).toBeNull();
  expect(waitsForTheHouse(over)).toBe(true);
  expect(waitsForTheHouse(awaiting("2026-10-05T09:00:00Z"))).toBe(false);
  expect(endsSoon(awaiting("2026-10-08T09:00:00Z"))).toBe(true);
});

test("a return closes by time only where the program itself knows that money and remedy are done", () => {
  const known = { ...nothingKnown, remedyDelivered: true, moneySettled: true };
  expect(nameOf(standing({ status: "handed-back", known }))).toBe("close");
  for (const open of [{ remedyDelivered: null }, { moneySettled: null }, { moneySettled: false }]) {
    expect(nameOf(standing({ status: "handed-back", known: { ...known, ...open } }))).toBeNull();
  }
  const late = { ...fullPast, handedBackAt: "2026-09-21T09:00:00.000Z" };
  expect(nameOf(standing({ status: "handed-back", known, past: late }))).toBeNull();
});

test("the program makes the moves of time and no other, and the table still has the last word", () => {
  const made = new Set<MoveName>();
  for (const name of moveNames) {
    for (const status of returnStatuses) {
      const request = { name, reason: "Because.", seenVersion: 3, stated: allStated };
      if (moveReturn(program, standing({ status, now, custody: "with-dealer" }), request).kind === "moved")
        made.add(name);
    }
  }
  expect([...made]).toEqual(["remind", "propose-lapse", "lapse-approval", "close"]);
  const apart = standing({ status: "return-approved", safety: "isolate" });
  const lapse = { name: "lapse-approval", reason: "Ended.", seenVersion: 3 } as const;
  expect(moveReturn(program, apart, lapse)).toMatchObject({ why: "safety-open" });
});
