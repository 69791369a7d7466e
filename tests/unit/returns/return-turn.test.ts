import { expect, test } from "vitest";
import type { CustodyPlace } from "@/lib/returns/custody-track";
import { type DecidableRemedy, decidableRemedies } from "@/lib/returns/decision.schema";
import { turnWhenReady } from "@/lib/returns/place-guards";
import type { ReturnStatus } from "@/lib/returns/return-status";
import { isBackInUse, returnStatuses, returnStatusWords } from "@/lib/returns/return-status";
import { turnForDealer, whoseTurn } from "@/lib/returns/return-turn";

const read = (status: ReturnStatus, danger = false, remedy: DecidableRemedy | null = null) =>
  turnForDealer({ status, danger, remedy, turn: whoseTurn(status) });

test("before a decision it is the maker's turn and nothing is to be sent", () => {
  for (const status of ["sent-in", "in-review"] as const) {
    const { turn, next } = read(status, false, null);
    expect(turn).toBe("The maker's turn");
    expect(next).toMatch(/send nothing yet/);
  }
});

test("a danger sign says that the pack stays set apart", () => {
  expect(read("sent-in", true, null).next).toMatch(/set apart/);
});

test("whose turn it is is one answer: the dealer reads it at their turn only, whatever was decided", () => {
  for (const status of returnStatuses) {
    for (const remedy of decidableRemedies) {
      const { turn, next } = read(status, false, remedy);
      expect(turn === "Your turn", `${status} ${remedy}`).toBe(whoseTurn(status) === "dealer");
      expect(next.length, `${status} ${remedy}`).toBeGreaterThan(10);
    }
  }
  expect(read("decided", false, "remote-fix").turn).toBe("The maker's turn");
  expect(read("ready-to-hand-back", false, "remote-fix").next).toMatch(/at your workshop/);
  expect(read("ready-to-hand-back", false, "refund").next).not.toMatch(/when you have it/);
  expect(turnForDealer({ status: "handed-back", danger: false, remedy: "refund", turn: "dealer" })).toEqual({
    turn: "Your turn",
    next: expect.stringMatching(/still to come back/),
  });
  expect(read("decided", true, "isolate").next).toMatch(/touch nothing/);
});

test("a pack that no class counts for is the maker's turn, and nobody reads that it may be sent", () => {
  const waits = turnForDealer({ status: "return-approved", danger: false, remedy: null, turn: "maker" });
  expect(waits.turn).toBe("The maker's turn");
  expect(waits.next).toMatch(/send nothing yet/);
  expect(read("return-approved")).toMatchObject({ turn: "Your turn", next: expect.stringMatching(/^You may send it/) });
  const packed = turnForDealer({ status: "ready-to-hand-back", danger: false, remedy: "repair", turn: "maker" });
  expect(packed).toEqual({ turn: "The maker's turn", next: expect.stringMatching(/give it to a carrier/) });
  // After help that helped, too, the turn is the one that the return says.
  expect(turnForDealer({ status: "remote-help", danger: false, remedy: null, turn: "maker" }).turn).toMatch(/maker/);
});

test("an unknown status is a fault in the data and not shown as a word", () => {
  expect(returnStatusWords("decided")).toBe("Decided");
  expect(() => returnStatusWords("lost")).toThrow(RangeError);
});

test("every status says what comes next, and the dealer's own turn is called so", () => {
  for (const status of returnStatuses) {
    const { turn, next } = read(status, false, null);
    expect(next.length, status).toBeGreaterThan(10);
    expect(turn === "Your turn", status).toBe(whoseTurn(status) === "dealer");
  }
});

test("a pack is back in use after the hand-over or a judgement in its favour, not while it is looked at anew", () => {
  expect(isBackInUse("decided", "return-as-is")).toBe(true);
  expect(isBackInUse("handed-back", "repair")).toBe(true);
  expect(isBackInUse("withdrawn", null)).toBe(true);
  expect(isBackInUse("in-review", "return-as-is")).toBe(false);
  expect(isBackInUse("decided", "isolate")).toBe(false);
  expect(isBackInUse("lapsed", null)).toBe(false);
});

test("what is ready is ours to send until it has left us, and the dealer's to receive from then on", () => {
  const turn = (decidedRemedy: DecidableRemedy, custody: CustodyPlace, unitPlace: CustodyPlace | null = null) =>
    turnWhenReady({ decidedRemedy, custody, unitPlace });
  for (const here of ["workshop", "store", "quarantine", "missing"] as const)
    expect(turn("repair", here)).toBe("maker");
  for (const gone of ["with-carrier-out", "with-dealer", "with-customer"] as const)
    expect(turn("repair", gone)).toBe("dealer");
  // In its place another pack goes out, wherever the returned one lies; with money or a disposal nothing does.
  expect([turn("replace", "with-dealer"), turn("replace", "store", "with-carrier-out")]).toEqual(["maker", "dealer"]);
  for (const back of ["quarantine", "store", "missing", "with-carrier-in"] as const)
    expect(turn("replace", "with-dealer", back)).toBe("maker");
  expect([turn("refund", "store"), turn("dispose", "recycler")]).toEqual(["dealer", "dealer"]);
});
