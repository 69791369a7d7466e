import { expect, test } from "vitest";
import { mintActor, type Role, roles } from "@/lib/access/actor";
import { whatIsMissingBeforeDecision } from "@/lib/returns/before-decision";
import {
  type CustodyPlace,
  custodyPlaces,
  leadsOut,
  mayComeIn,
  moveCustody,
  nextPlaces,
  placeWhenLodged,
  recordPlace,
  scanCustody,
} from "@/lib/returns/custody-track";
import { type DecidableRemedy, decidableRemedies } from "@/lib/returns/decision.schema";
import { moveHold } from "@/lib/returns/legal-hold";
import { type OutgoingRefusal, outgoingRefusals } from "@/lib/returns/outgoing-refusal";
import {
  moveRemedy,
  type RemedyFacts,
  type RemedyState,
  remedyDelivered,
  remedyStates,
  remedyStepsOf,
  whenLookedAtAnew,
} from "@/lib/returns/remedy-track";
import { decisionStands, type ReturnStatus, returnStatuses, undecidedStatuses } from "@/lib/returns/return-status";
import { moveSafety, type SafetyState, safetyStates } from "@/lib/returns/safety-track";
import { actorOf } from "./any-actor";

const ask = <State extends string>(to: State) => ({ to, reason: "Seen on the pack.", seenVersion: 1 });

// Ways of a pack, remedies and flags: common practice of the trade, no single source. d dealer side, h the bench.
const ways: Readonly<Record<CustodyPlace, string>> = {
  "with-customer": "with-dealer:d",
  "with-dealer": "with-carrier-in:d with-customer:d",
  "with-carrier-in": "quarantine:h with-dealer:d missing:h",
  quarantine: "bench:h store:h with-carrier-out:h",
  bench: "quarantine:h store:h workshop:h",
  store: "quarantine:h bench:h workshop:h with-carrier-out:h supplier:h recycler:h",
  workshop: "quarantine:h bench:h store:h",
  "with-carrier-out": "with-dealer:d quarantine:h missing:h with-dealer:h",
  supplier: "quarantine:h missing:h",
  recycler: "",
  specialist: "",
  missing: "with-dealer:d quarantine:h with-dealer:h",
};

function side(role: Role): string {
  if (role === "dealer" || role === "dealer-admin") return "d";
  return role === "technician" || role === "service-lead" ? "h" : "-";
}

const custody = (
  state: CustodyPlace,
  safety: SafetyState = "normal",
  isOnHold = false,
  decidedRemedy: DecidableRemedy | null = "dispose",
) => ({
  state,
  version: 1,
  safety,
  isOnHold,
  decidedRemedy,
  customerAgreed: false,
});

test("a pack goes the listed ways by the listed hands and no other", () => {
  for (const from of custodyPlaces) {
    for (const to of custodyPlaces) {
      for (const role of roles) {
        // A carrier's leg may end at the dealer by the house's scan of the carrier's proof.
        const isLegal =
          ways[from].split(" ").includes(`${to}:${side(role)}`) ||
          (from === "with-carrier-in" && to === "with-dealer" && side(role) === "h");
        expect(moveCustody(actorOf(role), custody(from), ask(to)).kind, `${role} ${from} ${to}`).toBe(
          isLegal ? "moved" : "refused",
        );
      }
    }
  }
});

test("a pack set apart is taken to quarantine only, and one that nobody may move not even there", () => {
  const bench = actorOf("technician");
  for (const to of ["store", "workshop"] as const) {
    expect(moveCustody(bench, custody("bench", "isolate"), ask(to))).toMatchObject({ why: "set-apart" });
  }
  expect(moveCustody(bench, custody("bench", "isolate"), ask("quarantine")).kind).toBe("moved");
  expect(moveCustody(bench, custody("bench", "do-not-move"), ask("quarantine"))).toMatchObject({ why: "set-apart" });
  expect(moveCustody(actorOf("dealer"), custody("with-dealer", "isolate"), ask("with-carrier-in"))).toMatchObject({
    why: "set-apart",
  });
  expect(moveCustody(bench, custody("with-carrier-in", "incident-open"), ask("quarantine")).kind).toBe("moved");
});

test("no scan takes a pack out of quarantine before its stay is ended there, nor from the dealer past class and label", () => {
  const bench = actorOf("technician");
  for (const to of ["bench", "store", "with-carrier-out"] as const) {
    for (const quarantineMet of [false, null]) {
      const lies = { ...custody("quarantine"), quarantineMet, outgoing: null, status: "in-review" } as const;
      expect(scanCustody(bench, lies, ask(to)), to).toMatchObject({ why: "quarantine-not-met" });
    }
    expect(
      scanCustody(
        bench,
        { ...custody("quarantine"), quarantineMet: true, outgoing: null, status: "in-review" },
        ask(to),
      ).kind,
      to,
    ).toBe("moved");
  }
  const atTheDealer = { ...custody("with-dealer"), quarantineMet: null, outgoing: null, status: "in-review" } as const;
  expect(scanCustody(actorOf("dealer"), atTheDealer, ask("with-carrier-in"))).toMatchObject({ why: "not-by-scan" });
  expect(nextPlaces(actorOf("dealer"), "with-dealer", "in-review")).toEqual(["with-customer"]);
  // Into the house by the entry at goods-in alone, wherever it comes from.
  for (const from of ["with-carrier-in", "with-carrier-out", "supplier", "missing"] as const) {
    const outside = { ...custody(from), quarantineMet: null, outgoing: null, status: "in-review" } as const;
    expect(scanCustody(bench, outside, ask("quarantine")), from).toMatchObject({ why: "at-goods-in" });
    expect(nextPlaces(bench, from, "in-review"), from).not.toContain("quarantine");
  }
  expect(
    scanCustody(bench, { ...custody("bench"), quarantineMet: null, outgoing: null, status: "in-review" }, ask("store"))
      .kind,
  ).toBe("moved");
});

test("what a carrier gives back while goods-in waits for it goes with the step that opens a way to send it anew", () => {
  const onTheWay = { ...custody("with-carrier-in"), quarantineMet: null, outgoing: null };
  const dealer = actorOf("dealer");
  const scan = (status: ReturnStatus) => scanCustody(dealer, { ...onTheWay, status }, ask("with-dealer"));
  expect(scan("return-expected")).toMatchObject({ why: "by-step" });
  expect(nextPlaces(dealer, "with-carrier-in", "return-expected")).toEqual([]);
  // Another pack came in its box, and it is allowed to be sent again: nothing but its place is left to say.
  expect(scan("return-approved").kind).toBe("moved");
  expect(nextPlaces(dealer, "with-carrier-in", "return-approved")).toEqual(["with-dealer"]);
});

test("no scan gives a pack to a carrier or a supplier without class, label and packing of the way out", () => {
  const bench = actorOf("technician");
  const ready = { ...custody("store"), quarantineMet: true, status: "ready-to-hand-back" } as const;
  for (const to of ["with-carrier-out", "supplier"] as const) {
    for (const why of Object.keys(outgoingRefusals) as OutgoingRefusal[])
      expect(scanCustody(bench, { ...ready, outgoing: why }, ask(to)), to).toMatchObject({ why });
    expect(scanCustody(bench, { ...ready, outgoing: null }, ask(to)).kind, to).toBe("moved");
  }
  // Inside the house nothing is asked.
  expect(scanCustody(bench, { ...ready, outgoing: "outgoing-no-class" }, ask("bench")).kind).toBe("moved");
  expect(custodyPlaces.filter(leadsOut)).toEqual(["with-carrier-out", "supplier"]);
});

test("nothing is called sent that may not be given to a carrier yet", () => {
  const facts = { ...factsFor("replace"), outgoing: "outgoing-not-packed" as const };
  const kept = { state: "reserved" as const, version: 1, facts };
  const request = { to: "sent" as const, reason: "On the road.", seenVersion: 1 };
  expect(moveRemedy(actorOf("technician"), kept, request)).toMatchObject({ why: "outgoing-not-packed" });
  expect(moveRemedy(actorOf("technician"), { ...kept, facts: factsFor("replace") }, request).kind).toBe("moved");
});

test("nothing is recycled or given to a supplier undecided or under a legal hold", () => {
  const bench = actorOf("technician");
  expect(moveCustody(bench, custody("store", "normal", true), ask("recycler"))).toMatchObject({ why: "on-hold" });
  expect(moveCustody(bench, custody("store", "normal", false, null), ask("supplier"))).toMatchObject({
    why: "undecided",
  });
  expect(moveCustody(bench, custody("store"), ask("recycler")).kind).toBe("moved");
});

test("only a pack that its decision gives up goes to a recycler, and not while that decision is objected to", () => {
  const recycled = (remedy: DecidableRemedy | null) =>
    moveCustody(actorOf("technician"), custody("store", "normal", false, remedy), ask("recycler"));
  for (const remedy of decidableRemedies) {
    const isGivenUp = ["dispose", "replace", "refund"].includes(remedy);
    expect(recycled(remedy).kind, remedy).toBe(isGivenUp ? "moved" : "refused");
  }
  expect(recycled("repair")).toMatchObject({ why: "not-what-was-decided" });
  expect(recycled(null)).toMatchObject({ why: "undecided" });
  // A sample is opened and never comes back, so it takes the same decision, or the customer whose pack it is.
  for (const remedy of decidableRemedies) {
    const here = custody("store", "normal", false, remedy);
    const isGivenUp = ["dispose", "replace", "refund"].includes(remedy);
    const given = moveCustody(actorOf("technician"), here, ask("supplier"));
    expect(given, remedy).toMatchObject(isGivenUp ? { kind: "moved" } : { why: "not-given-up" });
    const agreed = moveCustody(actorOf("technician"), { ...here, customerAgreed: true }, ask("supplier"));
    expect(agreed.kind, remedy).toBe("moved");
  }
  // Where the decision holds, written out once more.
  expect(returnStatuses.filter(decisionStands).join(" ")).toBe(
    "decided work-in-progress ready-to-hand-back handed-back closed solved-remotely",
  );
});

test("a lodged pack is the dealer's again, and one that comes in is taken in, unless the record has it here or gone", () => {
  for (const place of custodyPlaces) {
    const stays = ["quarantine", "bench", "store", "workshop", "recycler"].includes(place);
    expect(mayComeIn(place), place).toBe(!stays);
    const isWhereItIs = stays || place === "with-dealer" || place === "specialist";
    expect(placeWhenLodged(place), place).toBe(isWhereItIs ? null : "with-dealer");
  }
  const here = { state: "with-dealer", version: 1, isOnHold: true } as const;
  expect(recordPlace(here, ask("quarantine"))).toEqual({
    kind: "moved",
    from: "with-dealer",
    to: "quarantine",
    version: 2,
  });
  expect(recordPlace(here, ask("recycler"))).toMatchObject({ why: "on-hold" });
  expect(recordPlace(here, ask("with-dealer"))).toMatchObject({ why: "not-from-here" });
});

/** How grave, written out once more. */
const weight = (state: SafetyState) =>
  [["normal"], ["caution", "incident-closed"], ["isolate"], ["do-not-move"], ["incident-open"]].findIndex((same) =>
    same.includes(state),
  );

test("anyone raises a flag; only the safety officer or a named deputy lowers one; an incident is closed, not lowered, and never set by hand", () => {
  const deputy = mintActor({ userId: "u", name: "U", role: "technician", dealerId: null, isSafetyDeputy: true });
  for (const from of safetyStates) {
    for (const to of safetyStates) {
      const rises = weight(to) > weight(from);
      const isOrdered =
        from !== to && (from === "incident-open") === (to === "incident-closed") && to !== "incident-open";
      for (const actor of [...roles.map((role) => actorOf(role)), deputy]) {
        const mayDo = rises || actor.role === "safety-officer" || actor === deputy;
        const outcome = moveSafety(actor, { state: from, version: 1, seen: from }, ask(to));
        expect(outcome.kind, `${actor.role} ${from} ${to}`).toBe(mayDo && isOrdered ? "moved" : "refused");
      }
    }
  }
  const officer = actorOf("safety-officer");
  expect(
    moveSafety(officer, { state: "isolate", version: 1, seen: "isolate" }, { ...ask("normal"), reason: " " }),
  ).toMatchObject({
    why: "reason-missing",
  });
  expect(moveSafety(officer, { state: "isolate", version: 2, seen: "caution" }, ask("normal"))).toMatchObject({
    why: "someone-changed-this",
  });
});

test("a danger told on an old page is never refused: the flag stays at the graver of both, and the words are kept", () => {
  const dealer = actorOf("dealer");
  const raisable = ["caution", "isolate", "do-not-move"] as const;
  for (const seen of safetyStates) {
    for (const state of safetyStates) {
      for (const to of raisable) {
        const outcome = moveSafety(dealer, { state, version: 4, seen: null }, ask(to));
        const stands = weight(to) > weight(state) ? to : state;
        expect(outcome, `${state} ${to}`).toEqual({ kind: "moved", from: state, to: stands, version: 5 });
        // Whoever may lower as well means to raise where it is graver than their page showed, or than it is now.
        const officer = moveSafety(actorOf("safety-officer"), { state, version: 4, seen }, ask(to));
        const isRaised = weight(to) > weight(state) || weight(to) > weight(seen);
        expect(officer.kind === "moved", `${seen} ${state} ${to}`).toBe(isRaised);
      }
    }
  }
  const silent = moveSafety(dealer, { state: "caution", version: 4, seen: null }, { ...ask("isolate"), reason: " " });
  expect(silent).toMatchObject({ why: "reason-missing" });
});

const remedyWays: Readonly<Record<RemedyState, string>> = {
  "none-yet": "offered refused",
  offered: "chosen refund-agreed refused",
  chosen: "reserved refund-agreed refused",
  reserved: "sent chosen refund-agreed refused",
  sent: "received chosen refund-agreed refused",
  received: "refund-agreed refused",
  "refund-agreed": "refund-paid chosen refused",
  "refund-paid": "",
  refused: "offered refund-agreed",
  objected: "offered refused",
};
const remedyHands: Readonly<Partial<Record<RemedyState, string>>> = {
  chosen: "dealer dealer-admin technician service-lead",
  received: "dealer dealer-admin technician service-lead",
  "refund-paid": "finance",
};

const factsFor = (decidedRemedy: RemedyFacts["decidedRemedy"]): RemedyFacts => ({
  decidedRemedy,
  noticesGiven: true,
  choiceIsMissing: false,
  hasUnit: true,
  unitIsStopped: false,
  outgoing: null,
  isReleased: true,
  refundIsPaid: false,
  refundOwed: null,
});
/** The decision under which a step is what was decided. */
const decidedFor: Readonly<Partial<Record<RemedyState, RemedyFacts["decidedRemedy"]>>> = {
  "refund-agreed": "refund",
  "refund-paid": "refund",
  refused: "refuse",
};

test("a remedy goes the listed ways; the customer's steps are also the dealer's, a payment is finance's", () => {
  for (const from of remedyStates) {
    for (const to of remedyStates) {
      for (const role of roles) {
        const hands = (remedyHands[to] ?? "technician service-lead").split(" ");
        const isLegal = remedyWays[from].split(" ").includes(to) && hands.includes(role);
        const standing = { state: from, version: 1, facts: factsFor(decidedFor[to] ?? "replace") };
        const outcome = moveRemedy(actorOf(role), standing, ask(to));
        expect(outcome.kind, `${role} ${from} ${to}`).toBe(isLegal ? "moved" : "refused");
      }
    }
  }
});

test("an objection is the case's: it takes what was promised along, and nobody records it beside", () => {
  for (const state of remedyStates) {
    expect(whenLookedAtAnew(state), state).toBe(["none-yet", "objected"].includes(state) ? null : "objected");
    for (const role of roles) {
      const standing = { state, version: 1, facts: factsFor("replace") };
      expect(moveRemedy(actorOf(role), standing, ask("objected")), `${role} ${state}`).toMatchObject({
        kind: "refused",
      });
    }
  }
  // A refusal that came later is recorded from wherever the promise stood.
  for (const state of ["offered", "chosen", "reserved", "sent", "received", "objected"] as const) {
    const standing = { state, version: 1, facts: factsFor("refuse") };
    expect(moveRemedy(actorOf("technician"), standing, ask("refused")).kind, state).toBe("moved");
  }
});

test("a refund is delivered when finance has paid it; all else when it was handed over, also after an objection", () => {
  for (const state of remedyStates) {
    expect(remedyDelivered(state, "refund", true), state).toBe(state === "refund-paid");
    expect(remedyDelivered(state, "return-as-is", true), state).toBe(true);
  }
  expect(remedyDelivered("objected", "repair", false)).toBeNull();
});

test.for<[string, RemedyState, RemedyState, Partial<RemedyFacts>, string]>([
  ["nothing is offered before a decision", "none-yet", "offered", { decidedRemedy: null }, "undecided"],
  ["nothing is refused before a decision", "none-yet", "refused", { decidedRemedy: null }, "undecided"],
  ["nothing is sent under an objection", "reserved", "sent", { decidedRemedy: null }, "undecided"],
  ["nobody chooses under an objection", "offered", "chosen", { decidedRemedy: null }, "undecided"],
  ["no refund is paid under an objection", "refund-agreed", "refund-paid", { decidedRemedy: null }, "undecided"],
  ["a refusal is not offered", "none-yet", "offered", { decidedRemedy: "refuse" }, "not-what-was-decided"],
  ["what was decided is not refused", "offered", "refused", {}, "not-what-was-decided"],
  ["no offer before the notices", "none-yet", "offered", { noticesGiven: false }, "notices-missing"],
  ["no choice without what was chosen", "offered", "chosen", { choiceIsMissing: true }, "choice-missing"],
  ["nothing is kept ready without a pack", "chosen", "reserved", { hasUnit: false }, "unit-missing"],
  ["a stopped pack is not sent", "reserved", "sent", { unitIsStopped: true }, "unit-stopped"],
  [
    "a repair is not sent before its release",
    "reserved",
    "sent",
    { decidedRemedy: "repair", isReleased: false },
    "not-released",
  ],
  // Under a refusal nothing of an earlier promise is gone on with.
  ["nothing is kept ready under a refusal", "chosen", "reserved", { decidedRemedy: "refuse" }, "not-what-was-decided"],
  ["nothing is sent under a refusal", "reserved", "sent", { decidedRemedy: "refuse" }, "not-what-was-decided"],
  ["nothing is received under a refusal", "sent", "received", { decidedRemedy: "refuse" }, "not-what-was-decided"],
  ["nothing is chosen under a refusal", "offered", "chosen", { decidedRemedy: "refuse" }, "not-what-was-decided"],
  ["a refund is paid and not sent", "reserved", "sent", { decidedRemedy: "refund" }, "not-what-was-decided"],
  ["no refund where none was decided", "chosen", "refund-agreed", {}, "not-what-was-decided"],
  ["no payment where another remedy was decided meanwhile", "refund-agreed", "refund-paid", {}, "not-what-was-decided"],
  [
    "a refund is agreed once",
    "offered",
    "refund-agreed",
    { decidedRemedy: "refund", refundIsPaid: true },
    "paid-before",
  ],
  [
    "nothing is paid where part of it was paid in another currency",
    "refund-agreed",
    "refund-paid",
    { decidedRemedy: "refund", refundOwed: { kind: "other-currency", paid: { minor: 1, currency: "CHF" } } },
    "paid-in-other-currency",
  ],
  [
    "a refund is paid once",
    "refund-agreed",
    "refund-paid",
    { decidedRemedy: "refund", refundIsPaid: true },
    "paid-before",
  ],
])("%s", ([, state, to, over, why]) => {
  const standing = { state, version: 1, facts: { ...factsFor("replace"), ...over } };
  const actor = actorOf(to === "refund-paid" ? "finance" : "technician");
  expect(moveRemedy(actor, standing, ask(to))).toMatchObject({ kind: "refused", why });
});

test("whoever asks what comes next is told what is open to them and why the rest is not yet", () => {
  const undecided = { state: "none-yet", facts: { ...factsFor("replace"), decidedRemedy: null } } as const;
  expect(remedyStepsOf(actorOf("technician"), undecided).map(({ to, whyNot }) => [to, whyNot !== null])).toEqual([
    ["offered", true],
    ["refused", true],
  ]);
  const chosen = { state: "chosen", facts: { ...factsFor("replace"), hasUnit: false } } as const;
  expect(remedyStepsOf(actorOf("service-lead"), chosen)).toEqual([
    { to: "reserved", whyNot: expect.stringMatching(/Keep one first/) },
    { to: "refund-agreed", whyNot: expect.stringMatching(/not what was decided/) },
    { to: "refused", whyNot: expect.stringMatching(/not what was decided/) },
  ]);
  expect(remedyStepsOf(actorOf("dealer"), chosen)).toEqual([]);
  for (const status of undecidedStatuses) expect(whatIsMissingBeforeDecision(status), status).toMatch(/: /);
  expect(whatIsMissingBeforeDecision("decided")).toBeNull();
});

test("only a manager lays a legal hold or takes it off", () => {
  for (const role of roles) {
    const outcome = moveHold(actorOf(role), { state: "none", version: 1 }, ask("held"));
    expect(outcome.kind, role).toBe(role === "manager" ? "moved" : "refused");
  }
});
