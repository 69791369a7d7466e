import { expect, test } from "vitest";
import { markOfHeight } from "@/lib/transport/package-mark";
import { ruleFields, rulesChanged } from "@/lib/transport/rule-fields";
import { BLANK_TRACKS, readRuleProposal } from "@/lib/transport/rule-proposal";
import { transportRulesSchema } from "@/lib/transport/rule-set.schema";
import { readSourced, writeSourced } from "@/lib/transport/rule-text";
import { firstTransportRules } from "@/tests/support/first-transport-rules";

const base = firstTransportRules();

/** The form as it is sent when nothing but these was typed over. */
function typed(changes: Readonly<Record<string, string>> = {}) {
  const filled = ruleFields(base, BLANK_TRACKS).map(({ name, text }) => [name, text] as const);
  const head = { version: "2027-1", validFrom: "2027-01-01", why: "ADR 2027 comes into force." };
  return { ...Object.fromEntries(filled), ...head, ...changes };
}

function problemsWith(changes: Readonly<Record<string, string>>) {
  const read = readRuleProposal(base, typed(changes));
  return read.kind === "problems" ? read.problems : [];
}

test("the form of the rules in force, sent as it is, is the same rules word by word", () => {
  const read = readRuleProposal(base, typed());
  if (read.kind !== "proposal") throw new Error(JSON.stringify(read.problems));
  const { rules } = read.proposal;
  expect({ ...rules, version: base.version, validFrom: base.validFrom }).toEqual(base);
  expect(rulesChanged(base, rules)).toEqual([]);
});

test("every mark is read back as it is written", () => {
  for (const text of [...base.air, ...base.checklist, ...base.definition, base.meanings.damaged]) {
    expect(readSourced(writeSourced(text))).toEqual({ kind: "sentence", sentence: text });
  }
  for (const line of ["No mark at all.", "Odd mark [hearsay]", "[read in ADR]", "Nowhere [read in  ]"]) {
    expect(readSourced(line), line).toEqual({ kind: "unmarked" });
  }
});

test("the height of a mark's letters has a source of its own, and one without is refused with its line", () => {
  const marks = "tracks.1.damaged.marks";
  const words = "Damaged/defective lithium ion battery";
  const read = "[read in lion.com (2019), quoting PHMSA's advisory of 2016]";
  const height = "(letters at least 12 mm [from memory: verify in 49 CFR 173.185(f)])";
  expect(
    ruleFields(base)
      .find(({ name }) => name === marks)
      ?.text.split("\n")[0],
  ).toBe(`${words} ${height} ${read}`);
  expect(problemsWith({ [marks]: `${words} (letters at least 12 mm) ${read}` })).toMatchObject([
    { field: marks, sentence: expect.stringMatching(/^Line 1: Say where the height of the letters comes from/) },
  ]);
});

test("a version from before heights had a mark passes the mark of the words on to none", () => {
  const [mark] = base.tracks[1]?.damaged.marks ?? [];
  if (mark === undefined) throw new Error("no mark");
  const { heightMark, ...before } = mark;
  expect(heightMark).toMatchObject({ kind: "from-memory" });
  expect(before.mark).toMatchObject({ kind: "read" });
  expect(markOfHeight(before)).toMatchObject({ kind: "from-memory" });
  expect(transportRulesSchema.parse(base)).toEqual(base);
});

test("a sentence without its source is refused at its field, with its line", () => {
  const air = `${base.air.map(writeSourced).join("\n")}\nNever in a balloon.`;
  expect(problemsWith({ air })).toMatchObject([
    { field: "air", sentence: expect.stringMatching(/^Line 4 says not where it comes from/) },
  ]);
});

test("a changed, an added and a dropped sentence are told apart", () => {
  const checklist = [...base.checklist.slice(1).map(writeSourced), "Weigh it. [rule of this house]"].join("\n");
  const read = readRuleProposal(base, typed({ checklist, authorisationDays: "10" }));
  if (read.kind !== "proposal") throw new Error(JSON.stringify(read.problems));
  const changes = rulesChanged(base, read.proposal.rules);
  expect(changes).toHaveLength(4);
  expect(changes.join("\n")).toMatch(/new: 10/);
  expect(changes.join("\n")).toMatch(/gone: The serial on the pack/);
  expect(changes.join("\n")).toMatch(/new: Weigh it/);
});

test("countries without rules get a track of their own, and none may stand in two", () => {
  const added = {
    "tracks.3.name": "Japan",
    "tracks.3.countries": "jp",
    "tracks.3.damaged.instruction": "P908",
    "tracks.3.damaged.level": "Packing group II. [from memory: verify in IMDG Code P908]",
    "tracks.3.damaged.contents": "Singly. [from memory: verify in IMDG Code P908]",
    "tracks.3.notDamaged.instruction": "P903",
    "tracks.3.notDamaged.level": "Packing group II. [from memory: verify in IMDG Code P903]",
    "tracks.3.notDamaged.contents": "No short circuit. [from memory: verify in IMDG Code P903]",
    "tracks.3.critical": "Ask the adviser. [rule of this house]",
  };
  const read = readRuleProposal(base, typed(added));
  expect(read.kind === "proposal" ? read.proposal.rules.tracks.at(-1)?.countries : read.problems).toEqual(["JP"]);
  expect(problemsWith({ ...added, "tracks.3.countries": "JP, DE" })).toMatchObject([
    { field: "tracks.3.countries", sentence: expect.stringMatching(/^DE stands in another track/) },
  ]);
  expect(problemsWith({ ...added, "tracks.3.countries": "Japan" })).toMatchObject([{ field: "tracks.3.countries" }]);
});

test("a day that does not exist, a time of no length and an empty rule are refused at their fields", () => {
  expect(problemsWith({ validFrom: "2027-02-30" })).toMatchObject([{ field: "validFrom" }]);
  expect(problemsWith({ authorisationDays: "0" })).toMatchObject([{ field: "authorisationDays" }]);
  expect(problemsWith({ air: "" })).toMatchObject([{ field: "air" }]);
  expect(problemsWith({ why: "why" })).toMatchObject([{ field: "why" }]);
});
