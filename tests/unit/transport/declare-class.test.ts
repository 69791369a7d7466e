import { expect, test } from "vitest";
import { type ReturnStatus, returnStatuses } from "@/lib/returns/return-status";
import { authorisationEnd, sendingState, whyNotSent } from "@/lib/transport/authorisation";
import { type DeclarationStanding, declareClass } from "@/lib/transport/declare-class";
import { proposeClass } from "@/lib/transport/propose-class";
import { actorOf } from "@/tests/unit/returns/any-actor";
import { declaration } from "./declared";

const lead = actorOf("service-lead");
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
};
const standing: DeclarationStanding = {
  proposal: proposeClass({ ...told, readings }),
  rulesConfirmed: true,
  declarations: 0,
  unitIsMissing: false,
  frozenBecause: [],
  proposedByUserId: null,
};
const undiagnosed = { ...standing, proposal: proposeClass({ ...told, readings: null }) };
const dangerous = { ...standing, proposal: proposeClass({ ...told, readings, dangerSigns: ["swollen"] }) };

const sent = {
  leg: "to-maker",
  transportClass: "damaged",
  rulesInForce: true,
  evidenceStands: true,
  frozenBecause: [],
  isSetApart: false,
  isCalledIn: false,
  isStopped: false,
} as const;

test("a diagnosed pack is called not damaged by a named person who examined every criterion", () => {
  expect(declareClass(lead, standing, declaration("not-damaged"))).toMatchObject({ kind: "declared" });
  expect(declareClass(lead, standing, declaration("not-damaged", "not-examined"))).toMatchObject({
    why: "criterion-open",
  });
});

test("nobody calls a pack not damaged under rules the adviser has not confirmed", () => {
  const unconfirmed = { ...standing, rulesConfirmed: false };
  expect(declareClass(lead, unconfirmed, declaration("not-damaged"))).toMatchObject({ why: "rules-not-confirmed" });
  expect(declareClass(lead, unconfirmed, declaration("damaged"))).toMatchObject({ kind: "declared" });
});

test("a pack that could not be diagnosed is never called not damaged", () => {
  expect(declareClass(lead, undiagnosed, declaration("not-damaged"))).toMatchObject({ why: "not-diagnosed" });
  expect(declareClass(lead, undiagnosed, declaration("damaged", "not-examined"))).toMatchObject({ kind: "declared" });
});

test("a stricter class is open to whoever may declare, do-not-ship always", () => {
  const held = { ...dangerous, frozenBecause: ["An incident is open."], rulesConfirmed: false };
  expect(declareClass(lead, held, declaration("do-not-ship", "not-examined"))).toMatchObject({ kind: "declared" });
  expect(declareClass(lead, held, declaration("damaged"))).toMatchObject({ why: "frozen" });
});

test("do-not-ship is left only where every criterion was examined and nothing acute was found", () => {
  expect(declareClass(lead, dangerous, declaration("damaged", "not-examined"))).toMatchObject({
    why: "critical-proposed",
  });
  expect(declareClass(lead, dangerous, declaration("damaged", "sign-found"))).toMatchObject({
    why: "acute-hazard-found",
  });
  expect(declareClass(lead, dangerous, declaration("damaged"))).toMatchObject({ kind: "declared" });
  expect(declareClass(lead, dangerous, declaration("not-damaged"))).toMatchObject({ why: "not-diagnosed" });
});

test("neither a dealer nor a technician declares, and of two people at once the second is told", () => {
  for (const role of ["dealer", "technician", "finance"] as const) {
    expect(declareClass(actorOf(role), standing, declaration("damaged"))).toMatchObject({ why: "not-allowed" });
  }
  expect(declareClass(lead, { ...standing, declarations: 1 }, declaration("damaged"))).toMatchObject({
    why: "someone-changed-this",
  });
});

test("a class alone is no permission: only an approved return prints, and one under way prints again", () => {
  const authorisedAt = new Date("2026-10-05T09:00:00Z");
  const expiresAt = authorisationEnd(authorisedAt, 14);
  const facts = { ...sent, authorisedAt, expiresAt };
  const kinds = Object.fromEntries(
    returnStatuses.map((status) => [status, sendingState({ ...facts, status }, authorisedAt).kind]),
  );
  const of = (kind: string) => returnStatuses.filter((status) => kinds[status] === kind).join(" ");
  expect(of("may-send")).toBe("return-approved return-expected");
  expect(of("not-approved")).toBe(
    "draft sent-in more-information-needed in-review remote-help decision-proposed decided lapsed",
  );
  expect(kinds).toMatchObject({ withdrawn: "not-any-more", merged: "not-any-more", closed: "not-any-more" });
  // The old pack of a replacement is called in long after the return was decided.
  expect(sendingState({ ...facts, status: "decided", isCalledIn: true }, authorisedAt).kind).toBe("may-send");
  for (const kind of ["not-approved", "not-any-more"] as const)
    expect(whyNotSent({ kind })).toMatch(/nothing is printed/);
});

test("leave to send ends with its days, and only leave that runs lets anything be printed", () => {
  const authorisedAt = new Date("2026-10-05T09:00:00Z");
  const expiresAt = authorisationEnd(authorisedAt, 14);
  expect(expiresAt.toISOString()).toBe("2026-10-19T09:00:00.000Z");
  const status = "return-approved" as ReturnStatus;
  const facts = { ...sent, status, authorisedAt, expiresAt };
  expect(sendingState(facts, new Date("2026-10-19T08:59:59Z")).kind).toBe("may-send");
  const cases = [
    sendingState(facts, expiresAt),
    sendingState({ ...facts, transportClass: null }, authorisedAt),
    sendingState({ ...facts, transportClass: "do-not-ship" }, authorisedAt),
    sendingState({ ...facts, rulesInForce: false }, authorisedAt),
    sendingState({ ...facts, evidenceStands: false }, authorisedAt),
    sendingState({ ...facts, isSetApart: true }, authorisedAt),
    sendingState({ ...facts, frozenBecause: ["An incident is open."] }, authorisedAt),
  ];
  expect(cases.map(({ kind }) => kind).join(" ")).toBe(
    "expired no-class do-not-ship rules-changed evidence-changed set-apart frozen",
  );
  for (const state of cases) expect(state.kind === "may-send" ? "" : whyNotSent(state)).toMatch(/\.$/);
});
