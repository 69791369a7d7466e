import { expect, test } from "vitest";
import { diagnose } from "@/lib/diagnosis/diagnose";
import type { PackModel } from "@/lib/packs/pack-model";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { packsToTry } from "@/seed/packs-to-try";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { plainLogCsv } from "@/tests/support/plain-log-csv";
import { plainModel } from "@/tests/support/plain-model";

function judge(csv: string, model: PackModel) {
  const decoder = createReadingDecoder({ model });
  decoder.push(new TextEncoder().encode(csv));
  const read = decoder.end();
  if (read.kind === "unusable") throw new Error(read.sentence);
  return diagnose({ log: read.log, summary: read.summary, model }).suggestion;
}

test("the file of another model leads to no remedy, whatever it shows", () => {
  const scenario = buildScenario();
  const pack = packsToTry(scenario, "D01")[0];
  const model = scenario.models.find(({ code }) => code === pack?.serial.slice(0, 2))?.model;
  if (pack === undefined || model === undefined) throw new Error("the scenario holds no pack");
  const csv = pack.log({ fault: "weak-cell", groups: [7], severity: "severe" });
  expect(judge(csv, model).remedy).toBe("replace");

  const suggestion = judge(csv, { ...model, groups: model.groups + 2 });
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.reasons[0]).toBe(
    `The file holds ${model.groups} groups, the model has ${model.groups + 2}: it is the file of another model, or columns are missing.`,
  );
});

test("a file without current says so, and not that the current was small", () => {
  const csv = plainLogCsv({ groups: 8, rows: 400 })
    .split("\n")
    .map((line) =>
      line
        .split(",")
        .filter((_, field) => field !== 2)
        .join(","),
    )
    .join("\n");
  const suggestion = judge(csv, { ...plainModel, groups: 8 });
  expect(suggestion.remedy).toBe("cannot-tell");
  expect(suggestion.reasons.join(" ")).toContain("No current was logged");
});
