import type fc from "fast-check";
import { expect } from "vitest";
import { recordArrival } from "@/lib/data/receiving/receiving";
import { makeMove } from "@/lib/data/returns/move-return";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { caseMoves } from "@/lib/returns/case-moves";
import type { Decision } from "@/lib/returns/decision.schema";
import type { MoveName } from "@/lib/returns/move-names";
import { readReturnStatus } from "@/lib/returns/return-status";
import { isSetApart } from "@/lib/returns/safety-track";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { lieInQuarantine } from "@/tests/support/lie-in-quarantine";
import { packBox } from "@/tests/support/pack-for-sending";
import { mayLeave } from "./send-off";
import { actorOf, atTheBench, type Belief, keptUnit, mandatory, type Real, type Who, whereItStands } from "./world";

function decisionOf(remedy: Decision["remedy"], seenVersion: number): Decision {
  return {
    remedy,
    confirmedFault: remedy === "return-as-is" ? "no-fault-found" : remedy === "refuse" ? "outside-cause" : "sense-wire",
    reason: "As measured on the bench.",
    seenVersion,
    ...(remedy === "replace" ? { replacementRevisionCode: "QP-B" } : {}),
    ...(remedy === "refuse"
      ? {
          refusalTerm: "4.2 of the guarantee: use outside the limits.",
          refusalEvidence: "Photograph 3: the case was opened.",
          refusalAlternatives: "A cell, a lead and the charger were looked at.",
          refusedUnseenBecause: "The customer sent the pictures by hand.",
        }
      : {}),
    // Below what one person may agree to; a later decision gives more, so that paying each in full would show.
    ...(remedy === "refund" ? { refundMinor: 5000 + 100 * seenVersion, refundCurrency: "EUR" } : {}),
  };
}

/** What is sent with a move: a proposal, or a return solved from a distance of which somebody says that nothing was wrong. */
function sentWith(name: MoveName, remedy: Decision["remedy"], seenVersion: number): Decision | undefined {
  if (name === "propose") return decisionOf(remedy, seenVersion);
  if (name !== "solve-remotely") return undefined;
  return { ...decisionOf("return-as-is", seenVersion), remedy: "remote-fix" };
}

/** With these the returned pack itself does not go back to anybody. */
const keepsThePack: readonly (Decision["remedy"] | null)[] = ["replace", "refund", "dispose"];

/** Something is carried to the dealer with the hand-over: another pack, or the returned one that still lies at the works. */
const travels = ({ decided, custody }: Belief) =>
  decided === "replace" ||
  (!keepsThePack.includes(decided) && ["quarantine", "bench", "store", "workshop"].includes(custody));

export class CaseMove implements fc.AsyncCommand<Belief, Real> {
  readonly who: Who;
  readonly name: MoveName;
  readonly stale: boolean;
  readonly remedy: Decision["remedy"];
  constructor(who: Who, name: MoveName, stale: boolean, remedy: Decision["remedy"]) {
    this.who = who;
    this.name = name;
    this.stale = stale;
    this.remedy = remedy;
  }
  check() {
    return true;
  }
  async run(belief: Belief, { world, reference, serial, twin }: Real) {
    const seenVersion = this.stale ? belief.version - 1 : belief.version;
    const kept = keptUnit(world, reference);
    const outgoing = belief.decided === "replace" && kept !== null ? kept : serial;
    const packedBefore = this.name === "hand-back" ? await mayLeave(reference) : false;
    // The dealer packs as soon as it may; where it may not, nothing is packed and the carrier gets nothing.
    if (this.name === "hand-to-carrier") await packBox(world.fleet, reference, new Date()).catch(() => {});
    // A pack that is expected comes in by the entry at goods-in and by nothing else.
    const arrives = this.name === "receive" && belief.status === "return-expected" && !this.stale;
    const arrival = arrivalSchema.parse({ scanned: serial, boxCondition: "sound", noSigns: true });
    const answer = arrives
      ? await recordArrival(actorOf(world, this.who), reference, arrival)
      : await makeMove(actorOf(world, this.who), reference, {
          name: this.name,
          reason: "Because the test says so.",
          seenVersion,
          decision: sentWith(this.name, this.remedy, seenVersion),
          stated: {
            dueOn: "2126-10-12",
            letterGivenOn: civilDateAt(new Date(), "Europe/Berlin"),
            scannedSerial: serial,
            outgoingSerial: outgoing,
            deliveredOn: civilDateAt(new Date(), "Europe/Berlin"),
            deliveryProof: "Spedition Nord, consignment 4711.",
            quarantineMet: true,
            tests: "done",
            partsAndPlan: "A new lead.",
            releaseSignature: "A. Bench",
            takenAwayBy: "A licensed carrier.",
            packIsSafe: true,
            noticesGiven: true,
            logWasAskedFor: true,
            ...(twin === null ? {} : { duplicateOf: twin }),
          },
        });
    const after = await whereItStands(reference);
    if (this.name === "hand-back" && answer.ok && travels(belief))
      expect(packedBefore, `${this} without class, label and packing`).toBe(true);
    if (!answer.ok) {
      expect([after.status, after.version]).toEqual([belief.status, belief.version]);
      return;
    }
    if (arrives) await lieInQuarantine(reference, new Date());
    if (this.name === "receive") expect(arrives, "received past goods-in").toBe(true);
    world.made.add(this.name === "propose" ? `propose from ${belief.status}` : this.name);
    if (this.name === "hand-back") world.made.add(`hand-back after ${belief.decided}`);
    if (this.name === "give-letter") world.made.add(`give-letter ${belief.lettersGiven + 1}`);
    const { from, to } = caseMoves[this.name];
    expect(this.stale, `${this} on a stale version`).toBe(false);
    expect(from, `${this}`).toContain(belief.status);
    if (to !== null) expect(after.status).toBe(to);
    expect(after.version).toBe(belief.version + 1);
    this.expectInOrder(belief, kept);
    this.learn(belief, readReturnStatus(after.status));
    if (this.name === "hand-back" && belief.decided === "replace" && kept !== null) {
      world.keptFor.delete(kept);
      world.handedOver.add(kept);
    }
  }
  /** What must have been so before a move that was made. */
  private expectInOrder(belief: Belief, kept: string | null): void {
    const { custodyTo } = caseMoves[this.name];
    // A pack that is set apart is not set in motion, not worked on and not handed back; what arrives is recorded.
    if (custodyTo !== undefined && !["receive", "come-back"].includes(this.name))
      expect(isSetApart(belief.safety), `${this}`).toBe(false);
    if (
      ["finish-work", "ready-without-work", "hand-back"].includes(this.name) &&
      !keepsThePack.includes(belief.decided)
    )
      expect(isSetApart(belief.safety), `${this} of a pack set apart`).toBe(false);
    if (this.name === "propose" && belief.status === "under-test") {
      expect(belief.openTests, `${this} with tests open`).toEqual([]);
      expect(belief.isCoded, `${this} uncoded`).toBe(true);
    }
    if (this.name === "merge" || this.name === "solve-remotely")
      expect(["with-customer", "with-dealer", "missing", "recycler"], `${this}`).toContain(belief.custody);
    if (this.name === "propose" && this.remedy === "return-as-is")
      expect(belief.mayFindNothing, `${this} without looking for a fault`).toBe(true);
    if (this.name === "solve-remotely")
      expect(belief.mayFindNothing, `${this} as "no fault found" without looking`).toBe(true);
    if (this.name === "finish-work" && belief.decided === "repair")
      expect(belief.isReleased, `${this} without a release`).toBe(true);
    if (this.name === "give-letter") {
      expect([belief.hasLetter, belief.decided], `${this} twice, or of nothing`).toEqual([false, expect.anything()]);
      expect(["berlin", ...atTheBench], `${this}`).toContain(this.who);
    }
    if (["start-work", "finish-work", "hand-back"].includes(this.name) && belief.decided === "replace")
      expect(kept, `${this} without a pack kept`).not.toBeNull();
  }
  private learn(belief: Belief, status: Belief["status"]): void {
    const { custodyTo } = caseMoves[this.name];
    if (this.name === "start-test") Object.assign(belief, { openTests: [...mandatory], isCoded: false });
    if (["object", "reopen", "reopen-solved"].includes(this.name)) belief.mayFindNothing = false;
    if (["object", "reopen"].includes(this.name) && !["none-yet", "objected"].includes(belief.remedy)) {
      belief.remedy = "objected";
      belief.remedyVersion += 1;
    }
    if (this.name === "propose") belief.proposed = this.remedy;
    if (this.name === "solve-remotely") belief.proposed = "remote-fix";
    const isApproved = ["approve", "approve-as-second"].includes(this.name) && status === "decided";
    if (isApproved || this.name === "solve-remotely") {
      const nothingDone = { workers: [], retest: new Map(), isReleased: false, isPaidUnderDecision: false };
      // What was given before was the letter of another decision.
      Object.assign(belief, nothingDone, { decided: belief.proposed, hasLetter: false });
    }
    if (this.name === "give-letter") Object.assign(belief, { hasLetter: true, lettersGiven: belief.lettersGiven + 1 });
    const isCounter = belief.custody === "with-dealer" || belief.custody === "with-customer";
    const isGivenBack = this.name === "hand-back" && !keepsThePack.includes(belief.decided) && !isCounter;
    const isHere = ["quarantine", "bench", "store", "workshop", "recycler"].includes(belief.custody);
    const isFetched = this.name === "finish-work" && belief.decided === "dispose" && !isHere;
    const place = isGivenBack ? "with-dealer" : isFetched ? "recycler" : custodyTo;
    if (place !== undefined && place !== belief.custody) {
      belief.custody = place;
      belief.custodyVersion += 1;
    }
    belief.status = status;
    belief.version += 1;
  }
  toString() {
    return `${this.who} ${this.name}${this.stale ? " (stale)" : ""} ${this.remedy}`;
  }
}
