import { expect, test } from "vitest";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { heightOf, type PackageMark } from "@/lib/transport/package-mark";
import type { SourcedText } from "@/lib/transport/sourced-text";
import { firstTransportRules } from "@/tests/support/first-transport-rules";

// Clauses of law and practice as a table. "read": a text of the source was read when the clause was written down; "memory":
// written down without it, so the data must say "from memory: verify"; "house": chosen by this house, in law or not.
// A clause that was only remembered must never reach a screen or a sheet as one that was read, nor the other way round.

const rules = firstTransportRules();
const [road, states] = rules.tracks;
if (road === undefined || states === undefined) throw new Error("two ways of carriage are held");
const clock = (id: string) => {
  const found = reportingClocks.clocks.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no clock ${id}`);
  return found;
};
const clockTexts = (id: string) => [clock(id).trigger, clock(id).limitInWords];

const heightsOf = (marks: readonly PackageMark[]) => marks.flatMap((mark) => heightOf(mark) ?? []);

interface Clause {
  readonly clause: string;
  readonly source: string;
  readonly mark: "read" | "memory" | "house";
  readonly words: RegExp;
  readonly texts: readonly SourcedText[];
}

const sp376 = "ADR 2025, special provision 376";
const ebook = "lithium battery transport e-book, batteriestransport.org, 2023";
const p908 = "ADR, packing instruction P908";
const cfr = "49 CFR 173.185(f)";

const clauses: readonly Clause[] = [
  { clause: "what cannot be diagnosed counts as damaged", source: ebook, mark: "read", words: /cannot be diagnosed before carriage/, texts: rules.definition },
  { clause: "leaked or vented counts as damaged", source: ebook, mark: "read", words: /leaked or vented/, texts: rules.definition },
  { clause: "the maker's criteria or an expert", source: sp376, mark: "read", words: /safety criteria of the maker.*expert/, texts: rules.definition },
  { clause: "damaged: packing group II", source: p908, mark: "read", words: /packing group II\./, texts: [road.damaged.level] },
  { clause: "damaged: singly, inner in outer", source: p908, mark: "read", words: /packed singly in an inner packaging/, texts: road.damaged.contents },
  { clause: "damaged: leak-proof", source: p908, mark: "read", words: /leak-proof/, texts: road.damaged.contents },
  { clause: "damaged: insulation that does not burn", source: p908, mark: "read", words: /thermal insulation that does not burn and does not conduct/, texts: road.damaged.contents },
  { clause: "damaged: venting device", source: p908, mark: "read", words: /venting device/, texts: road.damaged.contents },
  { clause: "damaged: absorbent where it leaks", source: p908, mark: "read", words: /absorbent/, texts: road.damaged.contents },
  { clause: "damaged: the mark on the package", source: `${ebook}, p. 155`, mark: "read", words: /^DAMAGED\/DEFECTIVE LITHIUM-ION BATTERIES$/, texts: road.damaged.marks },
  { clause: "damaged: transport document", source: "ADR 5.4.1", mark: "memory", words: /^Transport in accordance with special provision 376$/, texts: road.damaged.documentEntries },
  { clause: "damaged: the goods in the transport document", source: "ADR 5.4.1.1.1", mark: "memory", words: /^\{UN number\}, \{proper shipping name\}, 9, tunnel/, texts: road.damaged.documentEntries },
  { clause: "US: the goods in the shipping paper, with a telephone number", source: "49 CFR 172.202", mark: "memory", words: /emergency telephone number$/, texts: states.damaged.documentEntries },
  { clause: "critical: P911, one large LP906", source: sp376, mark: "read", words: /P911.*LP906/, texts: road.critical },
  { clause: "critical: packing group I", source: ebook, mark: "read", words: /packing group I\./, texts: road.critical },
  { clause: "critical: 100 °C outside, 200 °C for a moment", source: "ADR 2025, packing instruction P911", mark: "read", words: /100 °C \(200 °C for a moment\)/, texts: road.critical },
  { clause: "critical: transport category 0", source: "ADR 1.1.3.6", mark: "memory", words: /category 0/, texts: road.critical },
  { clause: "critical: this house sends none", source: "rule of this house", mark: "house", words: /sends no such pack itself/, texts: road.critical },
  { clause: "no relief for disposal", source: "special provision 377; PHMSA 24-0050", mark: "read", words: /special provision 377, P909/, texts: road.remarks },
  { clause: "special provision 230 does not apply", source: ebook, mark: "read", words: /provision 230 does not apply/, texts: road.remarks },
  { clause: "stowage at sea", source: "IMDG Code, SW19", mark: "memory", words: /stowage category C/, texts: road.remarks },
  { clause: "above 30 kg one to a packaging", source: p908, mark: "read", words: /30 kg net/, texts: [rules.aloneAboveKg.rule] },
  { clause: "US: inner packaging without metal", source: cfr, mark: "read", words: /non-metallic inner packaging/, texts: states.damaged.contents },
  { clause: "US: packing group I", source: cfr, mark: "read", words: /packing group I\./, texts: [states.damaged.level] },
  { clause: "US: the mark on the package", source: cfr, mark: "read", words: /^Damaged\/defective lithium ion battery$/, texts: states.damaged.marks },
  { clause: "US: letters of 12 mm", source: cfr, mark: "memory", words: /12 mm high/, texts: states.remarks },
  { clause: "US: letters of 12 mm, at the mark itself", source: cfr, mark: "memory", words: /letters at least 12 mm$/, texts: heightsOf(states.damaged.marks) },
  { clause: "US: class 9 label", source: "49 CFR 172.407 and 172.447", mark: "memory", words: /^Lithium battery class 9 label$/, texts: states.damaged.marks },
  { clause: "US: name and number on the package", source: "49 CFR 172.301", mark: "memory", words: /^Lithium ion batteries, \{UN number\}$/, texts: states.damaged.marks },
  { clause: "damaged: the UN number on the package", source: "ADR 5.2.1.1", mark: "memory", words: /^\{UN number\}$/, texts: road.damaged.marks },
  { clause: "damaged: its letters of 12 mm", source: "ADR 5.2.1.1", mark: "memory", words: /letters at least 12 mm$/, texts: heightsOf(road.damaged.marks) },
  { clause: "US: highway, rail and vessel only; sub-paragraphs", source: cfr, mark: "memory", words: /sub-paragraphs were not compared/, texts: states.remarks },
  { clause: "air: damaged packs are forbidden", source: `${ebook}, p. 40 and 144`, mark: "read", words: /By air are forbidden/, texts: rules.air },
  { clause: "air: the airlines' own rule", source: "IATA special provision A154", mark: "memory", words: /rules of the airlines/, texts: rules.air },
  { clause: "air: no return at all", source: "rule of this house", mark: "house", words: /No returned pack goes by air/, texts: rules.air },
  { clause: "EU: accident, without undue delay", source: "Regulation (EU) 2023/988, Art. 20", mark: "read", words: /Without undue delay/, texts: clockTexts("eu-accident") },
  { clause: "US: 24 hours", source: "16 CFR 1115.14", mark: "read", words: /Within 24 hours/, texts: clockTexts("us-cpsc-report") },
  { clause: "US: knowledge after 5 days", source: "16 CFR 1115.14(b)", mark: "read", words: /5 days at most/, texts: clockTexts("us-cpsc-knowledge") },
  { clause: "US: 10 days to investigate", source: "16 CFR 1115.14(d)", mark: "read", words: /not exceed 10 days/, texts: clockTexts("us-cpsc-investigation") },
  { clause: "US: 5 working days, vehicles", source: "49 CFR 573.6(b)", mark: "read", words: /5 working days/, texts: clockTexts("us-vehicle-defect") },
  { clause: "GB: forthwith", source: "GPSR 2005, regulation 9", mark: "memory", words: /Forthwith/, texts: clockTexts("uk-unsafe-product") },
  { clause: "NI: the Union's duty", source: "Windsor Framework, Annex 2", mark: "memory", words: /Without undue delay/, texts: clockTexts("xi-accident") },
  { clause: "AU: two days, every one in the chain", source: "ACL, s. 131 (productsafety.gov.au)", mark: "read", words: /Within two days/, texts: clockTexts("au-injury") },
  { clause: "CA: two days for all information", source: "CCPSA, s. 14(2), in Health Canada's guidance of June 2011", mark: "read", words: /Within two days after the day/, texts: clockTexts("ca-incident") },
  { clause: "CA: ten days for the written report", source: "CCPSA, s. 14(3), in Health Canada's guidance of June 2011", mark: "read", words: /Within 10 days after the day/, texts: clockTexts("ca-written-report") },
]; // biome-ignore format: a table

const kindsOf = { read: ["read"], memory: ["from-memory"], house: ["house", "practice"] } as const;

test.each(clauses.map((one) => [one.clause, one] as const))("%s stands in the data with its mark", (_, one) => {
  const found = one.texts.filter(({ text }) => one.words.test(text));
  expect(found, one.source).toHaveLength(1);
  const kinds: readonly string[] = kindsOf[one.mark];
  expect(kinds, `${one.source}: ${found[0]?.text}`).toContain(found[0]?.mark.kind);
});

// ADR packing instructions by name, and the numbers of the clocks, as values the program computes with.
test("instructions and limits are the ones of the clauses", () => {
  expect([road.damaged.instruction, road.damaged.largeInstruction]).toEqual(["P908", "LP904"]);
  expect(states.damaged.instruction).toBe(cfr);
  expect(rules.aloneAboveKg.kg).toBe(30);
  expect(clock("us-cpsc-report").limit).toEqual({ kind: "hours", hours: 24, workingDaysOnly: true });
  expect(clock("us-vehicle-defect")).toMatchObject({
    limit: { days: 5, counted: "working-days" },
    startsWith: "determination",
  });
  expect(clock("au-injury").limit).toMatchObject({ days: 2, counted: "every-day", movesToWorkingDay: true });
  expect(clock("ca-incident").limit).toMatchObject({ days: 2 });
  expect(clock("ca-written-report").limit).toMatchObject({ days: 10 });
  for (const id of ["eu-accident", "eu-dangerous-product", "xi-accident", "uk-unsafe-product"])
    expect(clock(id).limit.kind, id).toBe("at-once");
});

test("no sentence of a clock says that nothing need be reported, and every one of them is marked", () => {
  for (const { id } of reportingClocks.clocks)
    for (const { text, mark } of clockTexts(id)) {
      expect(text).not.toMatch(/not reportable|need not|no duty|minor/i);
      expect(["read", "from-memory"], id).toContain(mark.kind);
    }
});
