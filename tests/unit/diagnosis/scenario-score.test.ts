import { expect, test } from "vitest";
import { type Diagnosis, diagnose } from "@/lib/diagnosis/diagnose";
import type { Fault } from "@/lib/diagnosis/finding";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { packsToTry } from "@/seed/packs-to-try";
import { buildScenario } from "@/seed/scenario/build-scenario";
import type { SimulatedFault } from "@/seed/simulator/simulated-fault";

/**
 * From the bytes a simulated pack sends to the verdict, scored against what was put into the pack. The simulator shares
 * nothing with the diagnosis but the pack model. Four packs of two models for each fault, clear and severe.
 */
const scenario = buildScenario();
const packs = ["GW", "BR"].flatMap((model) =>
  packsToTry(scenario, "D01")
    .filter(({ serial }) => serial.startsWith(model))
    .slice(0, 2),
);

function judge(fault: SimulatedFault): Diagnosis[] {
  return packs.map((pack) => {
    const model = scenario.models.find(({ code }) => code === pack.serial.slice(0, 2))?.model;
    if (model === undefined) throw new Error(`no model for ${pack.serial}`);
    const decoder = createReadingDecoder({ model });
    decoder.push(new TextEncoder().encode(pack.log(fault)));
    const read = decoder.end();
    if (read.kind === "unusable") throw new Error(read.sentence);
    return diagnose({ log: read.log, summary: read.summary, model });
  });
}

/** Either name is right where the log cannot part the two: the next test does. */
const names: Partial<Record<Fault, readonly Fault[]>> = {
  "high-resistance-cell": ["high-resistance-cell", "high-resistance-joint"],
  "high-resistance-joint": ["high-resistance-cell", "high-resistance-joint"],
};

test.each<[Fault, number[]]>([
  ["weak-cell", [7]],
  ["high-resistance-cell", [5]],
  ["high-resistance-joint", [5]],
  ["sense-wire", [4, 5]],
  ["temperature-sensor", []],
  ["over-discharge", [3, 4]],
  ["imbalance", [6]],
  ["self-discharge", [6]],
])("a clear or severe %s is found in every pack, at the right groups", (fault, groups) => {
  for (const severity of ["clear", "severe"] as const) {
    for (const { findings } of judge({ fault, groups, severity })) {
      const found = findings.find((finding) => (names[fault] ?? [fault]).includes(finding.fault));
      expect(found, `${severity}: ${findings.map(({ fault: named }) => named).join(", ")}`).toBeDefined();
      if (fault === "over-discharge") {
        // How deep each drained group falls depends on the pack: one may stay above the limit that counts.
        expect(groups).toEqual(expect.arrayContaining([...(found?.groups ?? [])]));
        expect(found?.groups).not.toEqual([]);
      } else expect(found?.groups).toEqual(expect.arrayContaining(groups));
      expect(findings.map(({ fault: named }) => named)).not.toContain("no-fault-found");
      expect(found?.evidenceFor.length).toBeGreaterThan(0);
      expect(found?.nextTest).not.toBe("");
    }
  }
});

test("an acute event is always found, always isolates, and is never called no fault", () => {
  for (const severity of ["slight", "clear", "severe"] as const) {
    for (const { findings, suggestion } of judge({ fault: "acute-event", groups: [5, 6, 4], severity })) {
      expect(findings[0]?.fault).toBe("acute-event");
      expect(suggestion.remedy).toBe("isolate");
    }
  }
});

test("a healthy pack raises no alarm", () => {
  for (const severity of ["slight", "clear", "severe"] as const) {
    for (const { findings } of judge({ fault: "no-fault-found", groups: [], severity })) {
      expect(findings.map(({ fault }) => fault)).toEqual(["no-fault-found"]);
    }
  }
});
