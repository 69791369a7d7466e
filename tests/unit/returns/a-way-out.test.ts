import { expect, test } from "vitest";
import { type Role, roles } from "@/lib/access/actor";
import { whyNotLetGo } from "@/lib/packs/let-pack-go";
import { caseMoves } from "@/lib/returns/case-moves";
import { type CustodyPlace, custodyPlaces, nextPlaces } from "@/lib/returns/custody-track";
import { decidableRemedies } from "@/lib/returns/decision.schema";
import type { MoveName } from "@/lib/returns/move-names";
import { ownSteps } from "@/lib/returns/next-steps";
import { moveRemedy, type RemedyState, remedyDelivered, remedyStates } from "@/lib/returns/remedy-track";
import type { ReturnStanding } from "@/lib/returns/return-standing";
import { endedStatuses, type ReturnStatus, returnStatuses } from "@/lib/returns/return-status";
import { safetyStates } from "@/lib/returns/safety-track";
import { isUnitOut, moveUnit, nextUnitPlaces } from "@/lib/returns/unit-place";
import { actorOf } from "./any-actor";
import { fullPast, repair, standing } from "./any-standing";
import { leadsNowhere } from "./leads-nowhere";

/** Nobody hands over a pack that is in nobody's reach. */
const gone: readonly string[] = ["missing", "supplier", "recycler"];

const isEnd = (status: ReturnStatus) => endedStatuses.some((ended) => ended === status);

/** Long after the last day on which anybody could object, with nothing lying at goods-in. */
function late(over: Partial<ReturnStanding>): ReturnStanding {
  const made = standing({ now: new Date("2027-06-01T09:00:00Z"), ...over });
  // Where another pack goes out one is kept; on the way there the form asks for its serial.
  const reservedSerial = made.decidedRemedy === "replace" ? "QP2402000025" : null;
  return {
    ...made,
    known: {
      ...made.known,
      hasArrived: false,
      wasAnotherPack: false,
      reservedSerial,
      tests: "open",
      faultCoding: "missing",
    },
  };
}

function waysOn(here: ReturnStanding, role: Role): MoveName[] {
  const handsOutThePack = !["replace", "refund", "dispose"].includes(here.decidedRemedy ?? "");
  return ownSteps(actorOf(role), here)
    .filter(({ name, whyNot }) => whyNot === null && !leadsNowhere.includes(name))
    .filter(({ name }) => name !== "hand-back" || !handsOutThePack || !gone.includes(here.custody))
    .map(({ name }) => name);
}

test("at every status, wherever the pack is, whatever was decided and flagged, some person has a move that leads on", () => {
  const stuck: string[] = [];
  for (const status of returnStatuses.filter((one) => !isEnd(one))) {
    for (const custody of custodyPlaces) {
      for (const safety of safetyStates) {
        for (const decidedRemedy of [null, ...decidableRemedies]) {
          // Nothing stands behind these but a decision.
          const isAfter = ["decided", "work-in-progress", "ready-to-hand-back", "handed-back"].includes(status);
          if (isAfter && decidedRemedy === null) continue;
          // Before a decision one that stood earlier makes no difference; two show it.
          if (!isAfter && decidedRemedy !== null && decidedRemedy !== "repair") continue;
          // Set apart and decide later: no work begins on that.
          if (decidedRemedy === "isolate" && isAfter && status !== "decided") continue;
          for (const isOnHold of [false, true]) {
            const here = late({ status, custody, safety, decidedRemedy, isOnHold });
            // Tests are open on a bench that has the pack: whoever has it there can make them.
            const known =
              status === "under-test"
                ? { ...here.known, tests: "done" as const, faultCoding: "set" as const }
                : here.known;
            const atBench = ["quarantine", "bench", "store", "workshop"].includes(custody);
            const place = atBench ? { ...here, known } : here;
            if (!roles.some((role) => waysOn(place, role).length > 0))
              stuck.push([status, custody, safety, decidedRemedy, isOnHold].join(" "));
          }
        }
      }
    }
  }
  expect(stuck).toEqual([]);
});

test("what is held back leads on as well: the decision is taken up again, and one pack is let go by another than held it", () => {
  for (const status of ["decided", "work-in-progress", "ready-to-hand-back"] as const) {
    for (const decidedRemedy of decidableRemedies.filter((one) => one !== "isolate")) {
      for (const custody of custodyPlaces) {
        const here = late({ status, custody, decidedRemedy });
        const held = { ...here, known: { ...here.known, outgoingIsStopped: true } };
        const isOpen = roles.some((role) => waysOn(held, role).length > 0);
        expect(isOpen, `${status} ${decidedRemedy} ${custody}`).toBe(true);
      }
    }
  }
  for (const role of ["manager", "safety-officer"] as const) {
    const holder = actorOf(role);
    const stop = { key: "held back 1", title: "held back with set 1", lotCode: null, heldByUserId: holder.userId };
    const request = { why: "Its leads were looked at.", seenStops: [stop.key] };
    expect(whyNotLetGo(holder, [stop], request)).toBe("same-person");
    const others = roles.map((one) => actorOf(one)).filter(({ userId }) => userId !== holder.userId);
    expect(
      others.some((other) => whyNotLetGo(other, [stop], request) === null),
      role,
    ).toBe(true);
  }
});

test("a refund nobody agrees to and a replacement nobody has a pack for are taken up again by lead or manager", () => {
  const refund = late({ status: "decided", decidedRemedy: "refund", custody: "store" });
  const replace = late({ status: "decided", decidedRemedy: "replace", custody: "store" });
  const stuck = [
    { ...refund, known: { ...refund.known, refundIsAgreed: false } },
    { ...replace, known: { ...replace.known, reservedSerial: null } },
  ];
  for (const here of stuck) {
    expect(waysOn(here, "service-lead"), String(here.decidedRemedy)).toContain("reopen");
    expect(waysOn(here, "manager"), String(here.decidedRemedy)).toContain("reopen");
    expect(waysOn(here, "technician"), String(here.decidedRemedy)).not.toContain("reopen");
  }
});

test("a decision that can be carried out is not taken up again, and whoever asks reads why", () => {
  const agreed = late({ status: "decided", decidedRemedy: "refund", custody: "store" });
  for (const here of [
    { ...agreed, known: { ...agreed.known, refundIsAgreed: true } },
    late({ status: "decided", decidedRemedy: "replace", custody: "store" }),
    late({ status: "decided", decidedRemedy: "repair", custody: "store" }),
  ]) {
    const reopen = ownSteps(actorOf("manager"), here).find(({ name }) => name === "reopen");
    expect(reopen?.lack).toBe("decision-can-go-on");
  }
});

test("a question asked from wherever it was is answered by somebody, whatever happened to the pack", () => {
  for (const from of ["sent-in", "in-review", "remote-help", "under-test"] as const) {
    for (const custody of custodyPlaces) {
      const question = { ...(fullPast.question as NonNullable<typeof fullPast.question>), from };
      const here = late({ status: "more-information-needed", custody, past: { ...fullPast, question } });
      expect(waysOn(here, "technician"), `${from} ${custody}`).toContain("answer");
    }
  }
});

test("a pack goes on by scan from everywhere but the recycler and the specialist who collected it", () => {
  for (const place of custodyPlaces) {
    const ways = roles.flatMap((role) => nextPlaces(actorOf(role), place, "in-review"));
    expect(ways.length > 0, place).toBe(place !== "recycler" && place !== "specialist");
  }
});

test("from every state of a remedy what was decided can be delivered, so that the return can be closed", () => {
  for (const decidedRemedy of decidableRemedies) {
    for (const first of remedyStates) {
      // A refund that was paid stands under the decision that it was paid for.
      const facts = {
        decidedRemedy,
        noticesGiven: true,
        choiceIsMissing: false,
        hasUnit: true,
        unitIsStopped: false,
        outgoing: null,
        isReleased: true,
        refundIsPaid: first === "refund-paid",
        refundOwed: null,
      };
      const reached = new Set<RemedyState>([first]);
      for (const state of reached) {
        for (const to of remedyStates) {
          const request = { to, reason: "Told.", seenVersion: 1 };
          const isMade = roles.some(
            (role) => moveRemedy(actorOf(role), { state, version: 1, facts }, request).kind === "moved",
          );
          if (isMade) reached.add(to);
        }
      }
      const isDelivered = [...reached].some((state) => remedyDelivered(state, decidedRemedy, true) === true);
      expect(isDelivered, `${decidedRemedy} from ${first}`).toBe(true);
    }
  }
});

test("a pack that was sent in place of another is somewhere in the end, and can be given up, wherever it is now", () => {
  for (const first of ["with-carrier-out", "with-dealer", "with-carrier-in", "missing", "quarantine"] as const) {
    const reached = new Set<CustodyPlace>([first]);
    for (const state of reached) {
      for (const to of roles.flatMap((role) => nextUnitPlaces(actorOf(role), state))) {
        const request = { to, reason: "Box and seal whole, 54 V at the connector.", seenVersion: 1 };
        if (moveUnit(actorOf("technician"), { state, version: 1 }, request).kind === "moved") reached.add(to);
      }
    }
    expect(
      [...reached].some((place) => !isUnitOut(place)),
      first,
    ).toBe(true);
    expect([...reached], first).toContain("store");
  }
});

test("whatever the customer was given before, every remedy can be decided once it is said what comes back", () => {
  const propose = caseMoves.propose.guards;
  for (const remedy of decidableRemedies) {
    for (const given of [{ unitGiven: "QP2402000025" }, { refundPaidIn: "EUR" }]) {
      const here = late({ status: "in-review", custody: "quarantine" });
      const known = { ...here.known, ...given, tests: "done" as const, faultCoding: "set" as const };
      const money = remedy === "refund" ? { refundMinor: 5000, refundCurrency: "EUR" } : {};
      const comesBack = { comesBackWhat: "comes-back" as const, comesBackBy: "2027-06-01" };
      for (const said of [comesBack, { comesBackWhat: "nothing-comes-back" as const }]) {
        const decision = { ...repair, ...money, remedy, ...said, comesBack: "The dealer sends the pack in." };
        const move = { actor: actorOf("technician"), standing: { ...here, known }, stated: {}, decision };
        const why = propose.map((guard) => guard(move)).filter((refusal) => refusal !== null);
        expect(why, `${remedy} after ${Object.keys(given)}`).toEqual([]);
      }
    }
  }
});
