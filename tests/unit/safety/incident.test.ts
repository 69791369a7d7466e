import fc from "fast-check";
import { expect, test } from "vitest";
import { dangerSigns } from "@/lib/returns/danger-signs";
import { asksForDecision, clockStanding } from "@/lib/safety/clock-standing";
import { firstKnowledge, knowledgeKinds } from "@/lib/safety/first-knowledge";
import { foldIncident } from "@/lib/safety/fold-incident";
import { freezeFacts } from "@/lib/safety/freeze-facts";
import { dealerIncidentNotice, incidentChecklist } from "@/lib/safety/incident-checklist";
import { incidentDecisionSchema, openClocks, reportingDecisionLabels } from "@/lib/safety/incident-decision";
import { furtherKnowledgeSchema, type IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { flagsIn, incidentFlagLabels } from "@/lib/safety/incident-flags";
import { findPatterns } from "@/lib/safety/pattern-flags";
import { reportingClocks } from "@/lib/safety/reporting-clocks";

const nothing = { dangerSigns: [], conditions: [], findings: [] };

test("every danger sign but a fall or water raises a hard flag", () => {
  const silent = dangerSigns.filter((sign) => flagsIn({ ...nothing, dangerSigns: [sign] }).length === 0);
  expect(silent).toEqual(["impact-or-water"]);
});

test("an acute event in the readings and a switch that stays on raise their flags", () => {
  expect(flagsIn({ ...nothing, findings: [{ fault: "acute-event", safetyClass: "A0" }] })).toEqual([
    "heat-without-load",
  ]);
  expect(flagsIn({ ...nothing, findings: [{ fault: "power-stage-fault", safetyClass: "A1" }] })).toEqual([
    "protection-did-not-act",
  ]);
  expect(flagsIn(nothing)).toEqual([]);
});

test("first knowledge is the earliest entry, whatever order they were written in", () => {
  const entry = fc.record({ kind: fc.constantFrom(...knowledgeKinds), at: fc.date({ noInvalidDate: true }) });
  fc.assert(
    fc.property(fc.array(entry, { minLength: 1, maxLength: 6 }), (entries) => {
      expect(firstKnowledge(entries).at.getTime()).toBe(Math.min(...entries.map(({ at }) => at.getTime())));
    }),
  );
  expect(() => firstKnowledge([])).toThrow(RangeError);
});

test("two similar events in a lot or a revision make a pattern, one event twice does not", () => {
  const event = (reference: string, lot: string, flags: Parameters<typeof findPatterns>[0][number]["flags"]) => ({
    reference,
    flags,
    revisionCode: "QP-A",
    lotCodes: [lot],
  });
  const patterns = findPatterns([event("S-1", "L1", ["swelling"]), event("S-2", "L2", ["swelling", "leak"])]);
  expect(patterns).toEqual([{ sharedBy: "revision", code: "QP-A", flag: "swelling", references: ["S-1", "S-2"] }]);
  expect(findPatterns([event("S-1", "L1", ["leak"]), event("S-1", "L1", ["leak"])])).toEqual([]);
  expect(findPatterns([event("S-1", "L1", ["leak"]), event("S-2", "L1", ["leak"])])).toHaveLength(2);
});

test("an open incident holds the pack; a closed one still keeps the evidence", () => {
  expect(freezeFacts([{ reference: "S-1", isOpen: true }])).toMatchObject({
    noShip: true,
    noDestructiveTest: true,
    noHandBack: true,
    noErase: true,
  });
  expect(freezeFacts([{ reference: "S-1", isOpen: false }])).toMatchObject({
    noShip: false,
    noErase: true,
    because: [],
  });
  expect(freezeFacts([]).noErase).toBe(false);
});

const decision = {
  seenEntries: "3",
  clockId: "eu-accident",
  decision: "not-reported",
  until: "",
  reason: "Counsel found that nobody was hurt and nothing burned.",
  lawyerReference: "Dr. Ondine Salter, letter of 3 June",
};

test("a decision needs a reason, a lawyer, and a day only where it goes on", () => {
  expect(incidentDecisionSchema.safeParse(decision).success).toBe(true);
  for (const change of [
    { reason: "No." },
    { lawyerReference: "" },
    { until: "2026-07-01" },
    { decision: "no-report-needed" },
  ]) {
    expect(incidentDecisionSchema.safeParse({ ...decision, ...change }).success).toBe(false);
  }
  expect(incidentDecisionSchema.safeParse({ ...decision, decision: "investigating" }).success).toBe(false);
});

test("an incident stays open while a clock has no decision or is under investigation", () => {
  const latest = new Map([
    ["a", "reported"],
    ["b", "investigating"],
  ] as const);
  expect(openClocks(["a", "b", "c"], latest)).toEqual(["b", "c"]);
});

const at = (sequence: number) => new Date(Date.UTC(2026, 9, 8, 9, sequence));
const told = {
  kind: "knowledge",
  how: "telephone",
  knownAt: "2026-10-08T09:00:00.000Z",
  note: "A child was burned.",
} as const;
const decided = {
  kind: "decision",
  clockId: "eu-accident",
  decision: "not-reported",
  until: null,
  reason: "Counsel's letter.",
  lawyerReference: "Letter of 3 June",
} as const;
const entry = (sequence: number, content: IncidentEntryContent, by: string) => ({
  sequence,
  content,
  at: at(sequence),
  byUserId: by,
  byName: by,
});

test.each<IncidentEntryContent>([told, { kind: "flags", flags: ["fire"] }, { kind: "place", country: "US" }])(
  "what more becomes known ($kind) voids the taking of notice and the decisions before it",
  (more) => {
    const before = [
      entry(1, told, "dealer"),
      entry(2, { kind: "acknowledged" }, "officer"),
      entry(3, decided, "officer"),
    ];
    expect(foldIncident(before)).toMatchObject({ acknowledged: { byName: "officer" } });
    expect(foldIncident(before).decisions.has("eu-accident")).toBe(true);
    const after = foldIncident([...before, entry(4, more, "dealer")]);
    expect(after.acknowledged).toBeNull();
    expect([...after.decisions.keys(), ...after.overtaken.keys()]).toEqual(["eu-accident"]);
    expect(after.decisions.size).toBe(0);
    const anew = foldIncident([
      ...before,
      entry(4, more, "dealer"),
      entry(5, { kind: "acknowledged" }, "officer"),
      entry(6, decided, "officer"),
    ]);
    expect(anew.acknowledged?.at).toEqual(at(5));
    expect([anew.decisions.size, anew.overtaken.size]).toEqual([1, 0]);
  },
);

test("what the one who took notice tells calls nobody again, and still voids the decisions before it", () => {
  const { acknowledged, decisions } = foldIncident([
    entry(1, told, "dealer"),
    entry(2, { kind: "acknowledged" }, "officer"),
    entry(3, decided, "officer"),
    entry(4, told, "officer"),
  ]);
  expect(acknowledged?.byName).toBe("officer");
  expect(decisions.size).toBe(0);
});

test("nothing here says that an event is minor or need not be reported", () => {
  const said = JSON.stringify([
    reportingClocks,
    incidentChecklist,
    dealerIncidentNotice,
    reportingDecisionLabels,
    incidentFlagLabels,
  ]);
  expect(said).not.toMatch(/minor|not reportable|need not be reported|no need to report|harmless/i);
});

test("a time of first knowledge as the form sends it is UTC, and one with an offset keeps it", () => {
  const read = (knownAt: string) =>
    furtherKnowledgeSchema.parse({ how: "telephone", knownAt, note: "Told on the telephone." }).knownAt.toISOString();
  expect(read("2026-10-06T07:00")).toBe("2026-10-06T07:00:00.000Z");
  expect(read("2026-10-06T07:00+02:00")).toBe("2026-10-06T05:00:00.000Z");
  expect(furtherKnowledgeSchema.safeParse({ how: "telephone", knownAt: "", note: "Told." }).success).toBe(false);
});

const clocks = reportingClocks.clocks;
const accidentClock = clocks.find(({ id }) => id === "eu-accident");
// Wednesday; the clock is counted in Brussels, where the day ends at 22:00 UTC in summer.
const untilFriday = { ...decided, decision: "investigating", until: "2026-10-09" } as const;
const stillFriday = new Date("2026-10-09T21:59:59Z");
const saturday = new Date("2026-10-09T22:00:00Z");

test("an investigation ends with its day where the clock is counted: then the clock asks for a decision anew", () => {
  if (accidentClock === undefined) throw new Error("There is no such clock");
  const standing = (decision: Parameters<typeof clockStanding>[1], now: Date) =>
    clockStanding(accidentClock, decision, now);
  expect(standing(undefined, stillFriday)).toBe("undecided");
  expect(standing(decided, saturday)).toBe("decided");
  expect(standing(untilFriday, stillFriday)).toBe("investigated");
  expect(standing(untilFriday, saturday)).toBe("investigation-over");
  expect([standing(undefined, saturday), standing(untilFriday, saturday)].every(asksForDecision)).toBe(true);
  expect([standing(decided, saturday), standing(untilFriday, stillFriday)].some(asksForDecision)).toBe(false);
});

test("with the day until which more is investigated every taking of notice before it is over, until somebody takes notice or decides", () => {
  if (accidentClock === undefined) throw new Error("There is no such clock");
  const set = { ...reportingClocks, clocks: [{ ...accidentClock, countries: [] }] };
  const holidays = {};
  const entries = [
    entry(1, told, "dealer"),
    entry(2, { kind: "acknowledged" }, "officer"),
    entry(3, untilFriday, "officer"),
  ];
  expect(foldIncident(entries, { set, holidays, now: stillFriday }).acknowledged).toMatchObject({ byName: "officer" });
  expect(foldIncident(entries, { set, holidays, now: saturday }).acknowledged).toBeNull();
  const noticed = { ...entry(4, { kind: "acknowledged" }, "deputy"), at: saturday };
  expect(foldIncident([...entries, noticed], { set, holidays, now: saturday }).acknowledged?.byName).toBe("deputy");
  const decidedAnew = { ...entry(4, decided, "officer"), at: saturday };
  expect(foldIncident([...entries, decidedAnew], { set, holidays, now: saturday }).acknowledged?.byName).toBe(
    "officer",
  );
});

test("a clock on which nobody decided calls anew at half of its time, at its end and every day after it, whoever took notice", () => {
  const report = clocks.find(({ id }) => id === "us-cpsc-report");
  if (report === undefined || accidentClock === undefined) throw new Error("There is no such clock");
  // 16 CFR 1115.14: 24 hours without weekends; knowledge of Thursday 09:00 UTC is 05:00 in Washington.
  const asked = (clock: typeof report, entries: Parameters<typeof foldIncident>[0], hours: number) =>
    foldIncident(entries, {
      set: { ...reportingClocks, clocks: [{ ...clock, countries: [] }] },
      holidays: {},
      now: new Date(at(0).getTime() + hours * 3_600_000),
    }).acknowledged?.byName ?? null;
  const noticed = (sequence: number, hours: number, by: string) => ({
    ...entry(sequence, { kind: "acknowledged" }, by),
    at: new Date(at(0).getTime() + hours * 3_600_000),
  });
  const first = [entry(1, told, "dealer"), noticed(2, 1, "officer")];
  expect([2, 11.9, 12, 30].map((hours) => asked(report, first, hours))).toEqual(["officer", "officer", null, null]);
  const again = [...first, noticed(3, 13, "deputy")];
  expect([14, 23.9, 24].map((hours) => asked(report, again, hours))).toEqual(["deputy", "deputy", null]);
  const over = [...again, noticed(4, 25, "deputy")];
  expect([26, 47.9, 48].map((hours) => asked(report, over, hours))).toEqual(["deputy", "deputy", null]);
  // Decided it calls nobody any more; where every hour counts there is a call for every day.
  const finally_ = [...over, entry(5, { ...decided, clockId: report.id }, "officer")];
  expect(asked(report, finally_, 1000)).toBe("officer");
  expect([23.9, 24].map((hours) => asked(accidentClock, first, hours))).toEqual(["officer", null]);
});
