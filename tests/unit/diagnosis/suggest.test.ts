import { expect, test } from "vitest";
import { faultWords } from "@/lib/diagnosis/fault-words";
import { type Fault, type Finding, faults, remedies } from "@/lib/diagnosis/finding";
import { plainFaultOf } from "@/lib/diagnosis/plain-reasons";
import { areRivals, findingTitles } from "@/lib/diagnosis/rivals";
import { suggest } from "@/lib/diagnosis/suggest";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";

const LEAST = 0.5;
const NOTHING_MISSING = { misfit: null, missing: [], unseen: [] };

function found(fault: Fault, changes: Partial<Finding> = {}): Finding {
  return {
    fault,
    groups: [7],
    confidence: 0.8,
    safetyClass: "C",
    evidenceFor: ["It was seen."],
    evidenceAgainst: [],
    nextTest: "Measure it.",
    ...changes,
  };
}

function remedyOf(finding: Finding, context: SuggestionContext = {}) {
  return suggest([finding], NOTHING_MISSING, LEAST, context).remedy;
}

test("a potted pack with a bad joint is replaced, an unpotted one repaired", () => {
  expect(remedyOf(found("high-resistance-joint", { safetyClass: "B" }), { potted: true })).toBe("replace");
  expect(remedyOf(found("high-resistance-joint", { safetyClass: "B" }), { potted: false })).toBe("repair");
});

test("a weak group is repaired only where the cells of the revision can be exchanged", () => {
  expect(remedyOf(found("weak-cell"), { potted: false, cellsRepairable: true })).toBe("repair");
  expect(remedyOf(found("weak-cell"), { potted: false, cellsRepairable: false })).toBe("replace");
  expect(remedyOf(found("weak-cell"), { potted: true, cellsRepairable: true })).toBe("replace");
  expect(remedyOf(found("weak-cell", { groups: [] }), { potted: false, cellsRepairable: true })).toBe("replace");
});

test("a group that loses charge is never repaired, whatever the build", () => {
  expect(remedyOf(found("self-discharge", { safetyClass: "B" }), { potted: false, cellsRepairable: true })).toBe(
    "replace",
  );
});

test("cover changes neither remedy nor safety, for any fault", () => {
  for (const fault of faults) {
    for (const safetyClass of ["A0", "A1", "B", "C"] as const) {
      const finding = found(fault, { safetyClass });
      const covers = (["covered", "not covered", "unknown"] as const).map((cover) => remedyOf(finding, { cover }));
      expect(new Set(covers).size, fault).toBe(1);
    }
  }
});

test("out of cover says who pays, and that it does not say what is wrong", () => {
  const { reasons, plainReasons } = suggest([found("weak-cell")], NOTHING_MISSING, LEAST, {
    cover: "not covered",
  });
  expect(reasons.join(" ")).toContain("who pays, not what is wrong");
  expect(plainReasons.join(" ")).toContain("ask the customer before any paid work");
});

test("any finding of class A0 or A1 isolates the pack, also one far down the list", () => {
  const list = [found("imbalance"), found("self-discharge", { safetyClass: "A1", confidence: 0.3 })];
  const { remedy, wouldChange } = suggest(list, NOTHING_MISSING, LEAST, {
    cover: "not covered",
    ageDays: 3,
  });
  expect(remedy).toBe("isolate");
  expect(wouldChange.join(" ")).toContain("Nothing in a file changes this");
});

test("nothing that is not classed as sound is put right from afar or given back", () => {
  for (const fault of faults) {
    expect(["remote-fix", "return-as-is"], fault).not.toContain(remedyOf(found(fault, { safetyClass: "B" })));
  }
});

test("an early fault of the pack itself points to its build; an early misuse does not", () => {
  const early = (fault: Fault) => suggest([found(fault)], NOTHING_MISSING, LEAST, { ageDays: 12 }).reasons.join(" ");
  expect(early("weak-cell")).toContain("12 days");
  expect(early("outside-cause")).not.toContain("12 days");
});

test("without a known replacement it still says replace, and what to ask first", () => {
  const suggestion = suggest([found("weak-cell")], NOTHING_MISSING, LEAST, {
    compatibleReplacementKnown: false,
  });
  expect(suggestion.remedy).toBe("replace");
  expect(suggestion.reasons.join(" ")).toContain("find one before promising it");
  expect(suggestion.wouldChange.join(" ")).toContain("ask engineering");
});

test("a low confidence leads to cannot-tell with the test, and what the file lacked is kept", () => {
  const missing = ["No current was logged."];
  const suggestion = suggest([found("weak-cell", { confidence: 0.3 })], { ...NOTHING_MISSING, missing }, LEAST);
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.reasons.join(" ")).toContain("Measure it.");
  expect(suggestion.missing).toEqual(missing);
  expect(suggestion.wouldChange.join(" ")).toContain("No current was logged.");
});

test("a rival of another remedy is named with what it would change", () => {
  const rivals = [found("high-resistance-cell"), found("high-resistance-joint", { safetyClass: "B", confidence: 0.5 })];
  const { wouldChange } = suggest(rivals, NOTHING_MISSING, LEAST);
  expect(wouldChange[0]).toBe("If the test shows weld or link with high resistance instead: repair.");
});

test("every remedy and fault speaks plain words without a number, a code or a unit", () => {
  for (const fault of faults) {
    const { plainReasons, remedy } = suggest([found(fault)], NOTHING_MISSING, LEAST);
    expect(remedies).toContain(remedy);
    expect(plainReasons[0]).toBe(plainFaultOf({ fault, safetyClass: "C" }));
    for (const sentence of plainReasons) expect(sentence).not.toMatch(/\d|mOhm|confidence|F\d|class/);
  }
});

test("a complaint the file could not have shown outweighs no fault found, any other does not", () => {
  const leak = {
    fault: "self-discharge" as const,
    because: "A slow leak cannot be seen here: no rest of two days was logged.",
    next: "Park the pack for three days.",
  };
  const sound = [found("no-fault-found", { groups: [], evidenceAgainst: [leak.because] })];
  const coverage = { misfit: null, missing: [], unseen: [leak] };
  const standing = suggest(sound, coverage, LEAST, { complaint: "loses-charge-standing" });
  expect(standing.remedy).toBe("cannot-tell");
  expect(standing.reasons).toContain(leak.because);
  expect(standing.reasons.at(-1)).toBe("Do this next: Park the pack for three days.");
  const range = suggest(sound, coverage, LEAST, { complaint: "short-range" });
  expect(range.remedy).toBe("return-as-is");
  expect(range.reasons).toContain(`Not shown: ${leak.because}`);
  expect(range.missing).toEqual([leak.because]);
});

test("a finding that is not sound, behind one that is put right from afar, keeps the pack from both", () => {
  const outside = found("outside-cause", { groups: [], confidence: 0.9 });
  const wire = found("sense-wire", { groups: [4, 5], safetyClass: "B", confidence: 0.3 });
  const unsure = suggest([outside, wire], NOTHING_MISSING, LEAST);
  expect(unsure.remedy).toBe("cannot-tell");
  expect(suggest([outside, { ...wire, confidence: 0.7 }], NOTHING_MISSING, LEAST).remedy).toBe("repair");
  expect(suggest([outside, { ...wire, confidence: 0.1 }], NOTHING_MISSING, LEAST).remedy).toBe("remote-fix");
  const unjudged = found("imbalance", { groups: [9], safetyClass: "U", confidence: 0.4 });
  expect(suggest([outside, unjudged], NOTHING_MISSING, LEAST).remedy).toBe("cannot-tell");
});

test("imbalance is not put right from afar while a weak cell at the same group is nearly as likely", () => {
  const offset = found("imbalance", { confidence: 0.6, nextTest: "Cycle it with rests." });
  const weak = found("weak-cell", { confidence: 0.58 });
  const { remedy, reasons, plainReasons, wouldChange } = suggest([offset, weak], NOTHING_MISSING, LEAST);
  expect(remedy).toBe("cannot-tell");
  expect(reasons.join(" ")).toContain('not put right from afar while "weak');
  expect(reasons.at(-1)).toMatch(/^Not settled against weak .* To separate them: Cycle it with rests\.$/);
  expect(wouldChange.join(" ")).toMatch(
    /If the test shows weak .* instead: replace\. If "weak .*" is excluded: put it/,
  );
  expect(plainReasons.join(" ")).not.toMatch(/need not travel|without sending/);
  const unsure = { ...weak, confidence: 0.42 };
  expect(suggest([offset, unsure], NOTHING_MISSING, LEAST).remedy).toBe("cannot-tell");
  const surer = { ...offset, confidence: 0.9 };
  expect(suggest([surer, { ...weak, confidence: 0.55 }], NOTHING_MISSING, LEAST).remedy).toBe("cannot-tell");
  expect(suggest([surer, { ...weak, confidence: 0.3 }], NOTHING_MISSING, LEAST).remedy).toBe("remote-fix");
  expect(suggest([{ ...weak, confidence: 0.6 }, offset], NOTHING_MISSING, LEAST).remedy).toBe("replace");
});

test("a fault of class C that is not sure and asks for the bench keeps a pack from a remote fix of something else", () => {
  const outside = found("outside-cause", { groups: [], confidence: 0.9 });
  const high = found("high-resistance-cell", { confidence: 0.45 });
  expect(suggest([outside, high], NOTHING_MISSING, LEAST).remedy).toBe("cannot-tell");
  expect(suggest([outside, { ...high, confidence: 0.15 }], NOTHING_MISSING, LEAST).remedy).toBe("remote-fix");
  expect(suggest([outside, found("imbalance", { confidence: 0.45 })], NOTHING_MISSING, LEAST).remedy).toBe(
    "remote-fix",
  );
});

// One finding of each remedy, on groups of their own so that none rivals another; gravest first.
const ofEachRemedy = [
  ["isolate", found("mechanical-damage", { groups: [], safetyClass: "B" })],
  ["replace", found("over-discharge", { groups: [3], safetyClass: "B" })],
  ["cannot-tell", found("imbalance", { groups: [5], safetyClass: "B" })],
  ["repair", found("main-lead", { groups: [] })],
  ["remote-fix", found("outside-cause", { groups: [] })],
] as const;
const pairs = ofEachRemedy.flatMap(([graver, one], place) =>
  ofEachRemedy.slice(place + 1).flatMap(([milder, other]) => [
    { graver, milder, leads: graver, list: [one, { ...other, confidence: 0.7 }] },
    { graver, milder, leads: milder, list: [other, { ...one, confidence: 0.7 }] },
  ]),
);

test.each(pairs)("of two sure findings, $graver and $milder, the graver decides also where $leads leads", (pair) => {
  const { remedy, reasons, wouldChange } = suggest(pair.list, NOTHING_MISSING, LEAST);
  expect(remedy).toBe(pair.graver);
  const [leading, second] = pair.list.map(({ fault }) => faultWords[fault].toLowerCase());
  expect(reasons.join(" ")).toContain(second);
  expect(wouldChange[0]).toMatch(/^If .* is ruled out, .* is left: /);
  expect(wouldChange[0]).toContain(leading);
  expect(wouldChange[0]).toContain(second);
});

test("of two sure findings that ask for one remedy the graver class is said at the counter too", () => {
  const lead = found("main-lead", { groups: [], confidence: 0.9 });
  const wire = found("sense-wire", { groups: [4, 5], safetyClass: "B" });
  const { remedy, plainReasons } = suggest([lead, wire], NOTHING_MISSING, LEAST);
  expect(remedy).toBe("repair");
  expect(plainReasons).toEqual(
    expect.arrayContaining([
      plainFaultOf({ fault: "main-lead", safetyClass: "B" }),
      plainFaultOf({ fault: "sense-wire", safetyClass: "B" }),
    ]),
  );
});

test("a second fault counts where it is sure, whatever leads: what the build forbids, and class C behind a remote fix", () => {
  const remedyOfTwo = (one: Finding, other: Finding, context: SuggestionContext = {}) =>
    suggest([one, other], NOTHING_MISSING, LEAST, context).remedy;
  const joint = found("high-resistance-joint", { groups: [2], safetyClass: "B" });
  expect(remedyOfTwo(found("temperature-sensor", { groups: [] }), found("self-discharge", { safetyClass: "B" }))).toBe(
    "replace",
  );
  expect(remedyOfTwo(found("main-lead", { groups: [] }), joint, { potted: true })).toBe("replace");
  expect(remedyOfTwo(found("main-lead", { groups: [] }), joint, { potted: false })).toBe("repair");
  expect(remedyOfTwo(found("outside-cause", { groups: [] }), found("weak-cell"))).toBe("replace");
  // Two readings of one thing are not both true, and what is not sure is named only.
  expect(remedyOfTwo({ ...joint, groups: [7] }, found("high-resistance-cell"))).toBe("repair");
  const unsure = suggest([joint, found("over-discharge", { groups: [9], confidence: 0.4 })], NOTHING_MISSING, LEAST);
  expect(unsure.remedy).toBe("repair");
  expect(unsure.wouldChange[0]).toBe('If "discharged too deeply" is borne out as well: replace.');
});

test("a complaint the file could not have shown is asked for before a remote fix as well, unless what was found explains it", () => {
  const damage = {
    fault: "mechanical-damage" as const,
    because: "Damage to the case, swelling, a leak or a smell cannot be seen in readings.",
    next: "Look at the pack: case, seams, connector, smell.",
  };
  const range = { ...damage, fault: "weak-cell" as const, because: "Capacity cannot be judged." };
  const coverage = { misfit: null, missing: [], unseen: [damage, range] };
  for (const fault of ["outside-cause", "imbalance"] as const) {
    for (const complaint of ["damaged-case-or-connector", "noise-or-smell"] as const) {
      const { remedy, reasons } = suggest([found(fault)], coverage, LEAST, { complaint });
      expect(remedy, `${fault}, ${complaint}`).toBe("cannot-tell");
      expect(reasons).toContain(damage.because);
      expect(reasons.at(-1)).toBe("Do this next: Look at the pack: case, seams, connector, smell.");
    }
  }
  expect(suggest([found("imbalance")], coverage, LEAST, { complaint: "short-range" }).remedy).toBe("remote-fix");
  expect(suggest([found("outside-cause")], coverage, LEAST, { complaint: "short-range" }).remedy).toBe("cannot-tell");
  expect(suggest([found("main-lead")], coverage, LEAST, { complaint: "noise-or-smell" }).remedy).toBe("repair");
});

test.each([
  "sense-wire",
  "measurement-fault",
  "over-discharge",
  "self-discharge",
  "temperature-sensor",
  "main-lead",
  "high-resistance-joint",
] as const)("wherever %s is among the findings, not to charge comes first, at the counter as well", (fault) => {
  for (const first of [0.9, 0.3]) {
    const list = [found("outside-cause", { confidence: first }), found(fault, { safetyClass: "B", confidence: 0.1 })];
    const { reasons, plainReasons } = suggest(list, NOTHING_MISSING, LEAST);
    expect(reasons[0]).toMatch(/^Do not charge it/);
    expect(plainReasons).toContain("Do not charge it.");
  }
});

test("use that may have harmed the cells is not charged on; harmless use, a joint and a lead of class C say nothing of it", () => {
  expect(suggest([found("outside-cause", { safetyClass: "B" })], NOTHING_MISSING, LEAST).reasons[0]).toMatch(
    /^Do not charge it/,
  );
  for (const fault of ["outside-cause", "main-lead", "high-resistance-joint"] as const) {
    const { reasons } = suggest([found(fault, { safetyClass: "C" })], NOTHING_MISSING, LEAST);
    expect(reasons.join(" "), fault).not.toContain("Do not charge");
  }
});

test("use that may have harmed the cells leaves no sound pack at the counter", () => {
  const { plainReasons } = suggest([found("outside-cause", { safetyClass: "B" })], NOTHING_MISSING, LEAST);
  expect(plainReasons.join(" ")).not.toContain("looks sound");
  expect(plainReasons[0]).toMatch(/may have harmed the pack/);
});

// Pairs that one log can show alike and one test separates; every other pair may be true together.
test("faults at other groups, or not alike, are found besides and no rivals", () => {
  const joint = found("high-resistance-joint", { safetyClass: "B", confidence: 0.6 });
  const cell = found("high-resistance-cell");
  const elsewhere = found("high-resistance-joint", { groups: [2], safetyClass: "B", confidence: 0.6 });
  expect(areRivals(cell, joint)).toBe(true);
  expect(areRivals(joint, cell)).toBe(true);
  expect(areRivals(cell, elsewhere)).toBe(false);
  expect(areRivals(cell, found("weak-cell"))).toBe(false);
  expect(findingTitles([cell, joint, elsewhere], 0)).toEqual({
    title: "Most likely",
    testTitle: "Test that tells them apart",
  });
  expect(findingTitles([cell, joint, elsewhere], 1).title).toBe("Or instead");
  expect(findingTitles([cell, joint, elsewhere], 2)).toEqual({ title: "Also found", testTitle: "Next test" });
  const { reasons, wouldChange } = suggest([cell, elsewhere], NOTHING_MISSING, LEAST);
  expect(reasons.join(" ")).toContain(
    "Also found: weld or link with high resistance at group 2 (possible, 60 in 100).",
  );
  expect(reasons.join(" ")).not.toContain("Not settled against");
  expect(wouldChange.join(" ")).not.toContain("instead");
});

test("a danger that nothing explains comes before any test with current, whatever else was found", () => {
  const danger = {
    fault: "water-ingress" as const,
    because: "The case may be live.",
    next: "Measure the insulation.",
    beforeCurrent: true,
  };
  const coverage = { ...NOTHING_MISSING, missing: [danger.because], unseen: [danger] };
  const alone = suggest([], coverage, LEAST);
  expect(alone.reasons.at(-1)).toBe("To be able to tell, before anything else: Measure the insulation.");
  for (const finding of [found("outside-cause"), found("weak-cell"), found("weak-cell", { confidence: 0.3 })]) {
    const { remedy, reasons, plainReasons } = suggest([finding], coverage, LEAST);
    expect(remedy).not.toMatch(/remote-fix|return-as-is/);
    const text = reasons.join(" ");
    expect(text).toContain("Measure the insulation.");
    expect(text.indexOf("Measure the insulation.")).toBeLessThan(`${text} Measure it.`.lastIndexOf("Measure it."));
    expect(plainReasons).toContain("Do not charge it and do not ride it.");
  }
});
