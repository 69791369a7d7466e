import { randomUUID } from "node:crypto";
import type fc from "fast-check";
import { expect } from "vitest";
import { asSystem } from "@/lib/data/database";
import { claimMoney } from "@/lib/data/money/settlement-claims";
import { moveLine } from "@/lib/data/money/settlement-moves";
import { closeStatement, payStatement } from "@/lib/data/money/settlement-statements";
import { recordRemedy } from "@/lib/data/returns/move-track";
import type { RemedyState } from "@/lib/returns/remedy-track";
import { claimSchema } from "@/lib/settlement/claim.schema";
import { actorOf, type Belief, keptUnit, type Real, type Who } from "./world";

/** Somebody records what the customer was promised or has received. */
export class Promised implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly to: RemedyState;
  constructor(who: Who, to: RemedyState) {
    this.who = who;
    this.to = to;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const request = { to: this.to, reason: "Told by telephone.", seenVersion: belief.remedyVersion };
    const answer = await recordRemedy(actorOf(world, this.who), reference, request);
    if (!answer.ok) return;
    world.made.add(this.to);
    if (this.to === "refused") expect(belief.decided, `${this}`).toBe("refuse");
    expect(this.to, "an objection is the case's").not.toBe("objected");
    expect(belief.decided, `${this}`).not.toBeNull();
    if (this.to === "refund-agreed") expect(belief.decided, `${this}`).toBe("refund");
    if (this.to === "refund-paid") {
      expect([this.who, belief.decided, belief.isPaidUnderDecision], `${this}: paid twice`).toEqual([
        "finance",
        "refund",
        false,
      ]);
      belief.isPaidUnderDecision = true;
      belief.refundsPaid += 1;
      world.made.add(`refund ${belief.refundsPaid}`);
    }
    if (this.to === "sent" && belief.decided === "replace")
      expect(keptUnit(world, reference), `${this} without a pack kept`).not.toBeNull();
    belief.remedy = this.to;
    belief.remedyVersion += 1;
  }
  toString() {
    return `${this.who} records ${this.to}`;
  }
}

/** What is done with a reversal that was claimed; it goes the way of any line. */
const reversalSteps = ["check-reversal", "approve-reversal", "refuse-reversal"] as const;
export const moneySteps = ["claim", "check", "approve", "refuse", "reverse", "close", "pay", "pay-otherwise"] as const;

/** Somebody claims money for the return, moves the line on, closes a statement over it, pays it. */
export class Money implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly step: (typeof moneySteps)[number] | (typeof reversalSteps)[number];
  constructor(who: Who, step: Money["step"]) {
    this.who = who;
    this.step = step;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference }: Real) {
    const actor = actorOf(world, this.who);
    const { line } = belief;
    if (this.step === "claim") {
      const claim = { clientKey: randomUUID(), reference, kind: "labour", operation: "take-in", minutes: 20 };
      const answer = await claimMoney(actor, claimSchema.parse(claim));
      if (!answer.ok) return;
      belief.claims += 1;
      world.made.add(`claim ${belief.claims}`);
      // Only what was refused, or taken back by two people, is claimed anew.
      if (line !== null)
        expect(line.state === "refused" || line.isReversed, `${this}: one piece of work claimed twice`).toBe(true);
      const fresh = { state: "claimed", version: 1, statement: null, transfer: null } as const;
      belief.line = { id: answer.lineId, claimedBy: this.who, isReversed: false, reversal: null, ...fresh };
      return;
    }
    if (line === null) return;
    switch (this.step) {
      case "close": {
        const answer = await closeStatement(actor, world.fleet.berlin.dealerId ?? "", "EUR");
        if (!answer.ok) return;
        expect(this.who, `${this}`).toBe("finance");
        expect(line.state === "approved" || world.approvedReversals.size > 0, `${this} over nothing`).toBe(true);
        world.approvedReversals.clear();
        if (line.state !== "approved") break;
        Object.assign(line, { state: "in-statement", version: line.version + 1, statement: answer.number });
        break;
      }
      case "pay":
      case "pay-otherwise": {
        if (line.statement === null) return;
        const transfer = `${this.step} ${reference}`;
        const answer = await payStatement(actor, line.statement, transfer);
        if (!answer.ok) return;
        expect(this.who).toBe("finance");
        if (answer.repeated) return expect(transfer, `${this}: another transfer for what is paid`).toBe(line.transfer);
        expect(line.state, `${this}: paid twice`).toBe("in-statement");
        Object.assign(line, { state: "paid", version: line.version + 1, transfer });
        break;
      }
      case "check-reversal":
      case "approve-reversal":
      case "refuse-reversal": {
        const { reversal } = line;
        if (reversal === null) return;
        const name = moveOfReversal[this.step];
        const asked = { lineId: reversal.id, name, seenVersion: reversal.version, reason: "Looked at." };
        if (!(await moveLine(actor, asked)).ok) return;
        if (name !== "check") expect(this.who, `${this} of an own reversal`).not.toBe(reversal.claimedBy);
        if (name === "approve") expect(reversal.state, `${this}`).toBe("checked");
        if (name === "approve") world.approvedReversals.add(reversal.id);
        line.isReversed = name === "approve";
        line.reversal = name === "check" ? { ...reversal, state: "checked", version: reversal.version + 1 } : null;
        break;
      }
      case "reverse": {
        const asked = { lineId: line.id, name: this.step, seenVersion: line.version, reason: "Looked at." } as const;
        if (!(await moveLine(actor, asked)).ok) return;
        expect([line.isReversed, line.reversal, this.who], `${this} twice`).toEqual([false, null, "finance"]);
        expect(["in-statement", "paid"], `${this}`).toContain(line.state);
        line.reversal = { id: await openReversalOf(line.id), claimedBy: this.who, state: "claimed", version: 1 };
        break;
      }
      default: {
        const asked = { lineId: line.id, name: this.step, seenVersion: line.version, reason: "Looked at." } as const;
        if (!(await moveLine(actor, asked)).ok) return;
        this.learn(line);
      }
    }
    world.made.add(this.step);
  }
  private learn(line: NonNullable<Belief["line"]>): void {
    if (this.step === "check") expect([this.who, line.state], `${this}`).toEqual(["finance", "claimed"]);
    else expect(this.who, `${this} of an own claim`).not.toBe(line.claimedBy);
    if (this.step === "approve") expect(line.state, `${this}`).toBe("checked");
    const to = { check: "checked", approve: "approved", refuse: "refused" } as const;
    if (this.step === "check" || this.step === "approve" || this.step === "refuse") line.state = to[this.step];
    line.version += 1;
  }
  toString() {
    return `${this.who} and the money: ${this.step}`;
  }
}

const moveOfReversal = {
  "check-reversal": "check",
  "approve-reversal": "approve",
  "refuse-reversal": "refuse",
} as const;

async function openReversalOf(lineId: string): Promise<string> {
  const open = { reversesLineId: lineId, state: "claimed" };
  const { id } = await asSystem((tx) => tx.settlementLine.findFirstOrThrow({ where: open, select: { id: true } }));
  return id;
}
