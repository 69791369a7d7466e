import { expect, test } from "vitest";
import { confirmedFaults } from "@/lib/returns/decision.schema";
import { outgoingRefusals } from "@/lib/returns/outgoing-refusal";
import type { SendingState } from "@/lib/transport/authorisation";
import { declareClass } from "@/lib/transport/declare-class";
import type { OutgoingLeg } from "@/lib/transport/leg";
import { proposeClass } from "@/lib/transport/propose-class";
import { proposeOutgoingClass, type ReturnedPackEvidence } from "@/lib/transport/propose-outgoing";
import { whyNotLeaving } from "@/lib/transport/ready-to-leave";
import { actorOf } from "@/tests/unit/returns/any-actor";
import { declaration } from "./declared";

const readings = {
  findings: [{ fault: "no-fault-found", safetyClass: "C" }],
  timeCoverage: 1,
  suggestedRemedy: "return-as-is",
  unseen: [],
};
const told = {
  dangerSigns: [],
  conditions: [],
  noFileReason: null,
  earlierReadings: [],
  signsInHand: [],
  ofCase: null,
  judged: [],
  readings,
};
const weakWire = { ...readings, findings: [{ fault: "sense-wire", safetyClass: "B" }], suggestedRemedy: "repair" };
const release = { byName: "B. Enno", on: "2026-10-05" };
const returned: ReturnedPackEvidence = {
  kind: "returned",
  told,
  isSetApart: false,
  isCautioned: false,
  release: null,
  signsAfterRelease: [],
  allTestsInside: false,
  wasOpened: false,
  confirmedFault: null,
};
type Change = Partial<ReturnedPackEvidence>;

/**
 * Which of the three tracks a pack goes out on. Source: ADR 2025, special provision 376: a battery that does not conform to the
 * type tested (defective for safety reasons, leaked or vented, not to be diagnosed before carriage, mechanically damaged) goes
 * by P908 or, liable to react, P911; any other by the rules for UN 3480 and 3481. That a release or a test settles a criterion
 * is a rule of this house.
 */
const clauses: readonly [string, OutgoingLeg, Change, string, string][] = [
  ["repaired, re-tested, released: sound", "to-dealer", { told: { ...told, readings: weakWire }, release }, "C", "not-damaged"],
  ["released after a swelling was told: the release answers it", "to-dealer", { told: { ...told, dangerSigns: ["swollen"] }, release }, "C", "not-damaged"],
  ["released after smoke: for the adviser", "to-dealer", { told: { ...told, dangerSigns: ["smoke-or-smell"] }, release }, "U", "damaged"],
  ["released after an acute event in the log: for the adviser", "to-dealer", { told: { ...told, readings: { ...readings, findings: [{ fault: "acute-event", safetyClass: "A0" }] } }, release }, "U", "damaged"],
  ["released after an acute event in an earlier log, read out sound since: for the adviser", "to-dealer", { told: { ...told, earlierReadings: [{ fileName: "first.csv", findings: [{ fault: "acute-event", safetyClass: "A0" }], suggestedRemedy: "isolate" }] }, release }, "U", "damaged"],
  ["released, and sent back with a broken case since", "to-dealer", { release, signsAfterRelease: ["Found at goods-in: case broken."] }, "B", "damaged"],
  ["released, to be handled with care", "to-dealer", { release, isCautioned: true }, "B", "damaged"],
  ["released, and set apart since", "to-dealer", { release, isSetApart: true }, "A1", "do-not-ship"],
  ["as it is, nothing found, every test inside", "to-dealer", { told: { ...told, readings: weakWire }, confirmedFault: "no-fault-found", allTestsInside: true }, "C", "not-damaged"],
  ["as it is, nothing found, tests left out, no file", "to-dealer", { told: { ...told, readings: null }, confirmedFault: "no-fault-found" }, "U", "damaged"],
  ["as it is, nothing found, the case broken", "to-dealer", { told: { ...told, signsInHand: ["Found at goods-in: case broken."] }, confirmedFault: "no-fault-found", allTestsInside: true }, "B", "damaged"],
  ["as it is, nothing found, swelling told since and judged", "to-dealer", { told: { ...told, judged: ["Told since: swelling."] }, confirmedFault: "no-fault-found", allTestsInside: true }, "B", "damaged"],
  ["as it is, nothing found, after a crash", "to-dealer", { told: { ...told, conditions: ["after-crash-or-drop"] }, confirmedFault: "no-fault-found", allTestsInside: true }, "B", "damaged"],
  ["as it is, nothing found, opened for a test", "to-dealer", { confirmedFault: "no-fault-found", allTestsInside: true, wasOpened: true }, "B", "damaged"],
  ["as it is, nothing found, but a leak was told", "to-dealer", { told: { ...told, dangerSigns: ["leaking"] }, confirmedFault: "no-fault-found", allTestsInside: true }, "A1", "do-not-ship"],
  ["refused with a fault that nobody mended", "to-dealer", { confirmedFault: "weak-cell", allTestsInside: true }, "B", "damaged"],
  ["refused, and nobody knows what it is", "to-dealer", { confirmedFault: "unknown", allTestsInside: true }, "B", "damaged"],
  ["undecided, no file", "to-dealer", { told: { ...told, readings: null } }, "U", "damaged"],
  ["undecided, diagnosed and no sign", "to-dealer", {}, "C", "not-damaged"],
  ["a sample, diagnosed and no sign", "to-supplier", {}, "B", "damaged"],
  ["a sample of a repaired pack", "to-supplier", { release }, "B", "damaged"],
  ["a sample that may react", "to-supplier", { told: { ...told, dangerSigns: ["leaking"] } }, "A1", "do-not-ship"],
]; // biome-ignore format: one row a case

test.each(clauses)("%s", (_, leg, change, safetyClass, transportClass) => {
  const proposal = proposeOutgoingClass({ leg, pack: { ...returned, ...change } });
  expect(proposal).toMatchObject({ safetyClass, transportClass });
  expect(proposal.reasons.length).toBeGreaterThan(0);
  // What could not be diagnosed never comes out as sound, whoever declares it.
  if (proposal.notDiagnosed.length > 0) expect(proposal.transportClass).not.toBe("not-damaged");
});

test("whatever was found and not mended is never proposed as sound, and a sample never is", () => {
  for (const confirmedFault of confirmedFaults) {
    const pack = { ...returned, confirmedFault, allTestsInside: true };
    const isNothing = confirmedFault === "no-fault-found" || confirmedFault === "outside-cause";
    expect(proposeOutgoingClass({ leg: "to-dealer", pack }).transportClass === "not-damaged", confirmedFault).toBe(
      isNothing,
    );
    expect(proposeOutgoingClass({ leg: "to-supplier", pack }).transportClass).not.toBe("not-damaged");
  }
});

test("a pack from stock is sound as built, and not where it was returned, flagged or never tested", () => {
  const stock = {
    kind: "from-stock",
    hasBuildRecord: true,
    vibrationPassed: true,
    wasReturned: false,
    wasLent: false,
    wasAway: false,
    isFlagged: false,
  } as const;
  const of = (change: object) =>
    proposeOutgoingClass({ leg: "to-dealer", pack: { ...stock, ...change } }).transportClass;
  expect(of({})).toBe("not-damaged");
  for (const change of [
    { hasBuildRecord: false },
    { vibrationPassed: false },
    { wasReturned: true },
    { wasLent: true },
    { wasAway: true },
    { isFlagged: true },
  ])
    expect(of(change)).toBe("damaged");
});

test("nobody declares a sample without its supplier, nor a replacement that is not kept yet, nor against the evidence", () => {
  const lead = actorOf("service-lead");
  const standing = {
    proposal: proposeClass(told),
    rulesConfirmed: true,
    declarations: 0,
    unitIsMissing: false,
    frozenBecause: [],
    proposedByUserId: null,
  };
  const sample = { ...standing, proposal: proposeOutgoingClass({ leg: "to-supplier", pack: returned }) };
  const toSupplier = { leg: "to-supplier", consignee: "Cell works, Musterstadt" };
  expect(declareClass(lead, sample, declaration("damaged", "no-sign", { leg: "to-supplier" }))).toMatchObject({
    why: "consignee-missing",
  });
  expect(declareClass(lead, sample, declaration("damaged", "no-sign", toSupplier)).kind).toBe("declared");
  expect(declareClass(lead, sample, declaration("not-damaged", "no-sign", toSupplier))).toMatchObject({
    why: "not-diagnosed",
  });
  const toDealer = declaration("damaged", "no-sign", { leg: "to-dealer" });
  expect(declareClass(lead, { ...standing, unitIsMissing: true }, toDealer)).toMatchObject({ why: "unit-missing" });
  for (const role of ["technician", "dealer", "finance"] as const)
    expect(declareClass(actorOf(role), standing, toDealer)).toMatchObject({ why: "not-allowed" });
});

test("a pack leaves under a class that stands, labelled and packed, and each lack is one sentence", () => {
  const maySend: SendingState = { kind: "may-send", until: new Date("2026-10-19T09:00:00Z") };
  const all = { sending: maySend, labelPrinted: true, packedAsTold: true };
  expect(whyNotLeaving(all)).toBeNull();
  expect(whyNotLeaving({ ...all, labelPrinted: false })).toBe("outgoing-no-label");
  expect(whyNotLeaving({ ...all, packedAsTold: false })).toBe("outgoing-not-packed");
  const shut: readonly (readonly [SendingState, string])[] = [
    [{ kind: "no-class" }, "outgoing-no-class"],
    [{ kind: "do-not-ship" }, "outgoing-do-not-ship"],
    [{ kind: "frozen", because: ["An incident is open."] }, "outgoing-held"],
    [{ kind: "rules-changed" }, "outgoing-rules-changed"],
    [{ kind: "evidence-changed" }, "outgoing-evidence-changed"],
    [{ kind: "expired", since: new Date("2026-10-19T09:00:00Z") }, "outgoing-ended"],
  ];
  for (const [sending, why] of shut) expect(whyNotLeaving({ ...all, sending })).toBe(why);
  for (const sentence of Object.values(outgoingRefusals)) expect(sentence).toMatch(/\.$/);
});
