import fc from "fast-check";
import { expect, test } from "vitest";
import { faults, safetyClasses } from "@/lib/diagnosis/finding";
import { transportInput } from "@/lib/diagnosis/stages/transport-input";
import { conditions } from "@/lib/returns/conditions";
import { dangerSigns } from "@/lib/returns/danger-signs";
import { noFileReasons } from "@/lib/returns/no-file-reasons";
import { type PackEvidence, proposeClass } from "@/lib/transport/propose-class";

const sound: PackEvidence = {
  dangerSigns: [],
  conditions: [],
  noFileReason: null,
  readings: {
    findings: [{ fault: "no-fault-found", safetyClass: "C" }],
    timeCoverage: 0.97,
    suggestedRemedy: "return-as-is",
    unseen: [],
  },
  earlierReadings: [],
  signsInHand: [],
  ofCase: null,
  judged: [],
};
const readings = sound.readings ?? { findings: [], timeCoverage: 0, suggestedRemedy: null, unseen: [] };
const earlier = { fileName: "first.csv", findings: [], suggestedRemedy: null };

const load = { fault: "high-resistance-cell", because: "Current never exceeded 3 A: resistance cannot be judged." };
const leak = { fault: "self-discharge", because: "A slow leak cannot be seen here: no rest of two days was logged." };

/** Source of every row: ADR 2025, special provision 376, and the words of its note; the marks of a row are those of the clause. */
const clauses: readonly [string, Partial<PackEvidence>, string, string][] = [
  ["diagnosed and no sign: not damaged", {}, "C", "not-damaged"],
  ["cannot be diagnosed before carriage: no file", { readings: null, noFileReason: "later" }, "U", "damaged"],
  [
    "cannot be diagnosed: the pack does not answer",
    { readings: null, noFileReason: "pack-does-not-answer" },
    "U",
    "damaged",
  ],
  ["cannot be diagnosed: a file without a finding", { readings: { ...readings, findings: [] } }, "U", "damaged"],
  ["cannot be diagnosed: low coverage", { readings: { ...readings, timeCoverage: 0.79 } }, "U", "damaged"],
  ["cannot be diagnosed: coverage unknown", { readings: { ...readings, timeCoverage: Number.NaN } }, "U", "damaged"],
  ["cannot be diagnosed: cannot tell", { readings: { ...readings, suggestedRemedy: "cannot-tell" } }, "U", "damaged"],
  ["cannot be diagnosed: the cells bore no load", { readings: { ...readings, unseen: [load] } }, "U", "damaged"],
  [
    "cannot be diagnosed and a warning sign: as liable to react",
    { readings: null, noFileReason: "later", conditions: ["after-crash-or-drop"] },
    "A1",
    "do-not-ship",
  ],
  [
    "cannot be diagnosed, nobody dared to connect: as liable to react",
    { readings: null, noFileReason: "not-safe-to-connect" },
    "A1",
    "do-not-ship",
  ],
  ["leaked", { dangerSigns: ["leaking"] }, "A1", "do-not-ship"],
  ["gas or fire: acute hazard, criterion (a)", { dangerSigns: ["smoke-or-smell"] }, "A0", "do-not-ship"],
  [
    "told since and judged by the safety officer: damaged",
    { judged: ["It is marked to be handled with care."] },
    "B",
    "damaged",
  ],
  [
    "told since and judged, and it cannot be diagnosed: damaged",
    { judged: ["It is marked to be handled with care."], readings: null, noFileReason: "later" },
    "B",
    "damaged",
  ],
  [
    "a defect in earlier readings, sound ones added since: damaged",
    { earlierReadings: [{ ...earlier, findings: [{ fault: "sense-wire", safetyClass: "B" }] }] },
    "B",
    "damaged",
  ],
  [
    "a danger in earlier readings, sound ones added since: as liable to react",
    { earlierReadings: [{ ...earlier, findings: [{ fault: "self-discharge", safetyClass: "A1" }] }] },
    "A1",
    "do-not-ship",
  ],
  [
    "earlier readings suggested to isolate it: a warning sign",
    { earlierReadings: [{ ...earlier, suggestedRemedy: "isolate" }] },
    "B",
    "damaged",
  ],
  [
    "earlier readings could not judge the cells, the newest did: not damaged",
    { earlierReadings: [{ ...earlier, findings: [{ fault: "weak-cell", safetyClass: "U" }] }] },
    "C",
    "not-damaged",
  ],
  ["a sign nobody here knows: no sound pack", { dangerSigns: ["melted"] }, "B", "damaged"],
  ["a sign nobody here knows, and no file", { dangerSigns: ["melted"], readings: null }, "A1", "do-not-ship"],
  ["physical damage, diagnosed, no other sign", { conditions: ["after-crash-or-drop"] }, "B", "damaged"],
  [
    "battery management system damaged, criterion (f): damaged, even where the diagnosis was milder",
    { readings: { ...readings, findings: [{ fault: "sense-wire", safetyClass: "C" }] } },
    "B",
    "damaged",
  ],
  [
    "a probe of the battery management system, criterion (f)",
    { readings: { ...readings, findings: [{ fault: "temperature-sensor", safetyClass: "B" }] } },
    "B",
    "damaged",
  ],
  [
    "internal short circuit, criterion (d)",
    { readings: { ...readings, findings: [{ fault: "self-discharge", safetyClass: "A1" }] } },
    "A1",
    "do-not-ship",
  ],
  [
    "a weak cell alone is no safety reason",
    { readings: { ...readings, findings: [{ fault: "weak-cell", safetyClass: "C" }], suggestedRemedy: "repair" } },
    "C",
    "not-damaged",
  ],
];

test.for(clauses)("%s", ([, change, safetyClass, transportClass]) => {
  expect(proposeClass({ ...sound, ...change })).toMatchObject({ safetyClass, transportClass });
});

test("whatever is missing, unknown or told, a pack is never called sound by default", () => {
  const findings = fc.array(
    fc.record({
      fault: fc.constantFrom(...faults, "a fault nobody knows"),
      safetyClass: fc.constantFrom(...safetyClasses, "Z"),
    }),
    { maxLength: 3 },
  );
  const suggestedRemedy = fc.constantFrom(null, "repair", "isolate", "cannot-tell");
  const evidence = fc.record({
    earlierReadings: fc.array(fc.record({ fileName: fc.constant("first.csv"), findings, suggestedRemedy }), {
      maxLength: 1,
    }),
    dangerSigns: fc.subarray([...dangerSigns]),
    conditions: fc.subarray([...conditions]),
    noFileReason: fc.constantFrom(null, ...noFileReasons),
    readings: fc.option(
      fc.record({
        findings,
        timeCoverage: fc.double({ min: 0, max: 1 }),
        suggestedRemedy,
        unseen: fc.subarray([leak, load]),
      }),
    ),
    signsInHand: fc.array(fc.constant("Swollen."), { maxLength: 1 }),
    ofCase: fc.option(
      fc.record({
        sentence: fc.constant("The gap of the case changed."),
        safetyClass: fc.constantFrom("A1" as const, "B" as const),
        isJudged: fc.constant(false),
      }),
    ),
    judged: fc.array(fc.constant("It is marked to be handled with care."), { maxLength: 1 }),
  });
  fc.assert(
    fc.property(evidence, (pack) => {
      const proposal = proposeClass(pack);
      if (proposal.transportClass !== "not-damaged") {
        expect(proposal.reasons.length).toBeGreaterThan(0);
        return;
      }
      expect(pack.dangerSigns).toEqual([]);
      expect(pack.signsInHand).toEqual([]);
      expect(pack.ofCase).toBeNull();
      expect(pack.judged).toEqual([]);
      expect(pack.readings?.findings.length).toBeGreaterThan(0);
      expect(pack.readings?.findings.every(({ safetyClass }) => safetyClass === "C")).toBe(true);
      const told = pack.earlierReadings.flatMap((file) => file.findings.map(({ safetyClass }) => safetyClass));
      expect(told.filter((safetyClass) => ["A0", "A1", "B"].includes(safetyClass))).toEqual([]);
      expect(pack.readings?.timeCoverage).toBeGreaterThanOrEqual(0.8);
      expect(proposal.notDiagnosed).toEqual([]);
    }),
  );
});

test("what the readings were blind to is told to whoever declares a pack sound", () => {
  const proposal = proposeClass({ ...sound, readings: { ...readings, unseen: [leak] } });
  expect(proposal).toMatchObject({ safetyClass: "C", notDiagnosed: [] });
  expect(proposal.reasons).toContain(leak.because);
});

test("the criteria of special provision 376 that something speaks to are named", () => {
  expect(proposeClass({ ...sound, dangerSigns: ["swollen"] }).criteria).toEqual(["physical-damage"]);
  expect(
    proposeClass({ ...sound, readings: { ...readings, findings: [{ fault: "sense-wire", safetyClass: "B" }] } })
      .criteria,
  ).toEqual(["internal-safety-components"]);
});

test("the share of the time a file must cover is the one its model was judged by", () => {
  const suggestion = { remedy: "return-as-is", unseen: [], thresholds: { verdict: { timeCoverage: 0.95 } } };
  const strict = transportInput([{ fault: "no-fault-found", safetyClass: "C" }], 0.9, suggestion);
  const usual = transportInput([{ fault: "no-fault-found", safetyClass: "C" }], 0.9, { ...suggestion, thresholds: {} });
  expect(proposeClass({ ...sound, readings: strict }).safetyClass).toBe("U");
  expect(proposeClass({ ...sound, readings: usual }).safetyClass).toBe("C");
});

test("the reasons name the earlier file in which a defect stands", () => {
  const findings = [{ fault: "sense-wire", safetyClass: "B" }];
  const proposal = proposeClass({ ...sound, earlierReadings: [{ ...earlier, findings }] });
  expect(proposal.reasons.join(" ")).toMatch(/earlier readings, first\.csv/);
});

test("a gap of the case that grew is liable to react and prefills physical damage; judged by a named person it still does the latter", () => {
  const sentence = "The gap grew from 0.8 mm when it was built to 6.0 mm: that may be swelling.";
  const grown = { sentence, safetyClass: "A1", isJudged: false } as const;
  for (const file of [sound.readings, null]) {
    const proposal = proposeClass({ ...sound, readings: file, ofCase: grown });
    expect(proposal).toMatchObject({ safetyClass: "A1", transportClass: "do-not-ship" });
    expect(proposal.criteria).toContain("physical-damage");
    expect(proposal.reasons).toContain(`Read on the case: ${sentence}`);
    expect(proposal.reasons.join(" ")).not.toContain("The readings hold");
  }
  const judged = proposeClass({ ...sound, ofCase: { ...grown, isJudged: true }, judged: ["Told since: swelling."] });
  expect(judged).toMatchObject({ safetyClass: "B", transportClass: "damaged", criteria: ["physical-damage"] });
  const bent = proposeClass({ ...sound, ofCase: { ...grown, safetyClass: "B" } });
  expect(bent).toMatchObject({ safetyClass: "B", criteria: ["physical-damage"] });
});

test("whoever declares a pack that was wet is told to look for water, whatever the class", () => {
  for (const condition of ["in-the-wet", "after-washing"]) {
    const proposal = proposeClass({ ...sound, conditions: [condition] });
    expect(proposal.transportClass).toBe("not-damaged");
    expect(proposal.reasons.join(" ")).toMatch(
      /Water in a pack shows days later: look for it before it is called sound/,
    );
  }
  expect(proposeClass(sound).reasons.join(" ")).not.toMatch(/Water/);
});
