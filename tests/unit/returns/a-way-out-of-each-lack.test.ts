import { expect, test } from "vitest";
import { whereMended } from "@/app/(service)/bench/[reference]/where-mended";
import { roles } from "@/lib/access/actor";
import { afterDecision, undecided } from "@/lib/returns/case-stages";
import { custodyPlaces } from "@/lib/returns/custody-track";
import { type DecidableRemedy, decidableRemedies } from "@/lib/returns/decision.schema";
import type { MoveRefusal } from "@/lib/returns/move-refusal";
import { ownSteps } from "@/lib/returns/next-steps";
import { whyOldPackStays } from "@/lib/returns/old-pack";
import type { KnownFacts } from "@/lib/returns/return-facts";
import type { ReturnStatus } from "@/lib/returns/return-status";
import { type AuthorisationFacts, sendingState } from "@/lib/transport/authorisation";
import { actorOf } from "./any-actor";
import { standing } from "./any-standing";
import { leadsNowhere } from "./leads-nowhere";

// The known facts one by one as they can be, instead of a stand-in in which everything is done: each refusal that they make
// must leave somebody a step, or a page on which the fact itself is mended.
const now = new Date("2027-06-01T09:00:00Z");
const over = "2027-05-01T09:00:00.000Z";
const lacks: readonly Partial<KnownFacts>[] = [
  { transportClass: null, rulesStand: false, labelPrinted: false, packedAsTold: false },
  { transportClass: "do-not-ship" },
  { rulesStand: false },
  { evidenceStands: false },
  { isHeldUnseen: true },
  { labelPrinted: false },
  { packedAsTold: false },
  { sendingEndsAt: over },
  { quarantineMet: false },
  { hasReadings: false },
  { outgoing: "outgoing-no-class" },
  { outgoing: "outgoing-ended" },
  { isReleased: false },
  { outgoingIsStopped: true },
  { refundIsAgreed: false },
  { noticesGiven: false },
  { remedyDelivered: false },
  { loanIsOut: true },
  { unitIsOut: true },
  { awaitedBackBy: "2027-07-01" },
  { moneySettled: false },
];

/** Where the others are mended, outside the page of a return of the bench. */
const elsewhere: Readonly<Partial<Record<MoveRefusal, string>>> = {
  "label-missing": "the dealer's page of the return",
  "not-packed": "the dealer's page of the return",
  "safety-open": "the safety officer lowers the flag or closes the incident",
  "on-hold": "a manager lifts the hold",
  "money-open": "/money",
  "pack-not-here": "the scan of its place",
  "pack-out-of-reach": "the scan of its place",
  "too-early": "time",
  "sending-still-open": "time",
};

const isMended = (why: MoveRefusal | null) => why !== null && (why in whereMended || why in elsewhere);

test("a fact that is not as it should be leaves somebody a step that leads on, or is mended on a page", () => {
  const stuck: string[] = [];
  const statuses: readonly ReturnStatus[] = [...undecided, ...afterDecision];
  for (const lack of lacks)
    for (const status of statuses)
      for (const custody of custodyPlaces)
        for (const decidedRemedy of decidableRemedies) {
          if (status === "closed" || (decidedRemedy === "isolate" && status !== "decided")) continue;
          const isAfter = afterDecision.some((stage) => stage === status);
          if (!isAfter && decidedRemedy !== "repair") continue;
          const made = standing({ status, custody, decidedRemedy, now });
          const reservedSerial = decidedRemedy === "replace" ? "QP2402000025" : null;
          const known = {
            ...made.known,
            hasArrived: false,
            wasAnotherPack: false,
            tests: "done" as const,
            reservedSerial,
          };
          const here = { ...made, known: { ...known, ...lack } };
          const steps = roles
            .flatMap((role) => ownSteps(actorOf(role), here))
            .filter(({ name }) => !leadsNowhere.includes(name));
          if (steps.some(({ whyNot, lack: why }) => whyNot === null || isMended(why))) continue;
          stuck.push([JSON.stringify(lack), status, custody, decidedRemedy, steps.map((one) => one.lack)].join(" "));
        }
  expect(stuck).toEqual([]);
});

test("an old pack that was called in gets its class, its label and its box one after the other, and then it leaves", () => {
  const leavesAnOldPack: readonly DecidableRemedy[] = ["replace", "refund"];
  for (const status of afterDecision)
    for (const decidedRemedy of leavesAnOldPack) {
      const ending = new Date("2027-06-10T09:00:00Z");
      const facts: AuthorisationFacts = {
        leg: "to-maker",
        status,
        transportClass: null,
        rulesInForce: true,
        evidenceStands: true,
        authorisedAt: null,
        expiresAt: null,
        isCalledIn: true,
        frozenBecause: [],
        isSetApart: false,
        isStopped: false,
      };
      expect(sendingState(facts, now)).toEqual({ kind: "no-class" });
      // Declared, with leave: from here label and checklist are made, whatever stage the return is at.
      const declared = { ...facts, transportClass: "damaged", authorisedAt: now, expiresAt: ending } as const;
      expect(sendingState(declared, now), `${status} ${decidedRemedy}`).toMatchObject({ kind: "may-send" });
      const here = standing({ status, decidedRemedy, custody: "with-dealer", now });
      const at = (known: Partial<KnownFacts>) =>
        whyOldPackStays("send-in", {
          ...here,
          status,
          known: { ...here.known, sendingEndsAt: ending.toISOString(), ...known },
        });
      expect(at({ transportClass: null, rulesStand: false })).toMatch(/declare the transport class/);
      expect(at({ labelPrinted: false })).toMatch(/label/);
      expect(at({ packedAsTold: false })).toMatch(/checklist/);
      // Leave that is over is given anew by declaring, which the state of sending says.
      expect(at({ sendingEndsAt: over })).toMatch(/renew/);
      expect(sendingState({ ...declared, expiresAt: new Date(over) }, now)).toMatchObject({ kind: "expired" });
      expect(at({}), `${status} ${decidedRemedy}`).toBeNull();
    }
});
