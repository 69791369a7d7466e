import { expect, test } from "vitest";
import { caseMoves } from "@/lib/returns/case-moves";
import { moveNames } from "@/lib/returns/move-names";

/** Written out, so that a move that is renamed or changed is looked at here too: turn, clock, and whether it is taken in hand. */
const exceptions: Readonly<Record<string, readonly [turn: string, clock: string, takes: boolean]>> = {
  take: ["by status", "anew", true],
  "take-over": ["by status", "runs-on", true],
  ask: ["by status", "pauses", false],
  remind: ["by status", "runs-on", false],
  answer: ["by status", "resumes", false],
  "prove-sale": ["stays", "runs-on", false],
  "choose-proof": ["stays", "runs-on", false],
  "add-readings": ["stays", "runs-on", false],
  "propose-lapse": ["maker", "runs-on", false],
  "confirm-help": ["maker", "runs-on", false],
  "come-back": ["maker", "of-the-desk", false],
  "await-again": ["maker", "of-the-desk", false],
  propose: ["by status", "anew", true],
};

test.each(moveNames)("%s leaves the turn, the clock and the taker as the table says", (name) => {
  const { turn = "by status", clock = "anew", takes = false } = caseMoves[name];
  expect([turn, clock, takes]).toEqual(exceptions[name] ?? ["by status", "anew", false]);
});

test("only a move that keeps the status may let the clock run on", () => {
  const running = moveNames.filter((name) => caseMoves[name].clock === "runs-on");
  for (const name of running) {
    const { from, to } = caseMoves[name];
    expect(to === null || from.every((one) => one === to), name).toBe(true);
  }
});
