import { expect, test } from "vitest";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { asRemembered, type ColumnMapping } from "@/lib/readings/column-mapping";
import { columnQuestions } from "@/lib/readings/column-questions";
import { deniesRemembered, hasDoubts } from "@/lib/readings/reading-doubts";
import { logOf, packHeaders, packRows, tableText } from "@/tests/support/pack-file";

const own = (choice: Partial<ColumnChoice> & Pick<ColumnChoice, "quantity">): ColumnChoice => ({
  number: null,
  unit: null,
  sign: null,
  ...choice,
});

const headers = packHeaders(3).map((header) => (header === "Current / A" ? "Current" : header));
/** A ride whose steps and state of charge show which way its current counts: charging is positive in `packRows`. */
const rideText = tableText(headers, packRows(3, 200));
const parkedText = tableText(
  headers,
  packRows(3, 60).map((row) =>
    row.map((value, at) => (at === 2 ? 0.02 : at === 0 ? value : row[at] === undefined ? 0 : 3.7)),
  ),
);
const questionsOf = (text: string, mapping?: ColumnMapping) =>
  columnQuestions(text.split("\n"), mapping, logOf(text, { mapping }).doubts)?.columns ?? [];
const answersOf = (text: string, mapping?: ColumnMapping): ColumnMapping =>
  Object.fromEntries(questionsOf(text, mapping).map(({ key, proposal }) => [key, proposal]));
const currentAs = (choice: Partial<ColumnChoice>) =>
  asRemembered({ Current: own({ quantity: "current", unit: "A", ...choice }) });

test("a direction confirmed for an earlier file does not overrule data that strongly deny it: it is asked anew, with both shown", () => {
  const mapping = currentAs({ sign: "discharge-positive" });
  const { log, summary, doubts } = logOf(rideText, { mapping });
  expect(summary.currentSign).toBe("charge-positive");
  expect(log.currentA[0]).toBe(-20);
  expect(deniesRemembered(doubts)).toBe(true);
  const asked = questionsOf(rideText, mapping).find(({ key }) => key === "Current");
  expect(asked?.proposal).toEqual(own({ quantity: "current", unit: "A", sign: "charge-positive" }));
  expect(asked?.why).toMatch(
    /for an earlier file .* positive when discharging, but the data of this one show positive when charging/,
  );
});

test("a direction confirmed for an earlier file counts where the data agree with it or tell nothing", () => {
  const agreeing = logOf(rideText, { mapping: currentAs({ sign: "charge-positive" }) });
  expect([agreeing.summary.currentSign, deniesRemembered(agreeing.doubts)]).toEqual(["charge-positive", false]);
  const silent = logOf(parkedText, { mapping: currentAs({ sign: "discharge-positive" }) });
  expect([silent.summary.currentSign, deniesRemembered(silent.doubts)]).toEqual(["discharge-positive", false]);
});

test("a direction that no data told is not proposed, a click that leaves it open remembers none, and the first file that tells it is asked about", () => {
  const asked = questionsOf(parkedText).find(({ key }) => key === "Current");
  expect(asked?.proposal.sign).toBeNull();
  expect(asked?.why).toContain("must be confirmed");
  const remembered = asRemembered(answersOf(parkedText));
  const again = logOf(parkedText, { mapping: remembered });
  expect([again.summary.currentSign, deniesRemembered(again.doubts)]).toEqual(["unknown", false]);
  const ride = logOf(rideText, { mapping: remembered });
  expect(deniesRemembered(ride.doubts)).toBe(true);
  expect(questionsOf(rideText, remembered).find(({ key }) => key === "Current")?.proposal.sign).toBe("charge-positive");
});

test("local times are asked a zone for where the earlier file of the same headings had none to ask for", () => {
  const dated = (zone: string) =>
    `Date,Cell 1 / V,Cell 2 / V\n2026-07-10 12:00:00${zone},3.7,3.7\n2026-07-10 12:00:01${zone},3.7,3.7\n`;
  const mapping = asRemembered(answersOf(dated("Z")));
  expect(deniesRemembered(logOf(dated("Z"), { mapping }).doubts)).toBe(false);
  const { doubts } = logOf(dated(""), { mapping });
  expect(deniesRemembered(doubts)).toBe(true);
  expect(columnQuestions(dated("").split("\n"), mapping, doubts)?.asksZone).toBe(true);
  expect(deniesRemembered(logOf(dated(""), { mapping, timeZone: "Europe/Berlin" }).doubts)).toBe(false);
});

test("a unit confirmed for an earlier file is asked about anew where the values cannot be in it", () => {
  const unitAsked = (text: string, key: string, choice: ColumnChoice) => {
    const mapping = asRemembered({ [key]: choice });
    const { proposal, why } = questionsOf(text, mapping).find((question) => question.key === key) ?? {};
    return why === null ? null : proposal?.unit;
  };
  const current = (unit: string) => own({ quantity: "current", unit, sign: "charge-positive" });
  const inMilliamperes = tableText(
    headers,
    packRows(3, 200).map((row) => row.map((value, at) => (at === 2 ? 1000 * value : value))),
  );
  // Whole amperes taken for milliamperes: the resistance of a group would be a thousandfold of what any has.
  expect(unitAsked(rideText, "Current", current("mA"))).toBe("A");
  expect(unitAsked(inMilliamperes, "Current", current("A"))).toBe("mA");
  expect(unitAsked(rideText, "Current", current("A"))).toBeNull();
  expect(unitAsked(inMilliamperes, "Current", current("mA"))).toBeNull();
  const warm = "Temperature T1 / degC";
  const inKelvin = tableText(
    headers,
    packRows(3, 30).map((row) => row.map((value, at) => (at === 6 ? value + 273.15 : value))),
  );
  expect(unitAsked(inKelvin, warm, own({ quantity: "temperature", unit: "degC" }))).toBe("K");
  expect(unitAsked(rideText, warm, own({ quantity: "temperature", unit: "K" }))).toBe("degC");
  expect(unitAsked(rideText, warm, own({ quantity: "temperature", unit: "degC" }))).toBeNull();
  const cell = "Cell 01 Voltage / V";
  expect(unitAsked(rideText, cell, own({ quantity: "cell-voltage", number: 1, unit: "V" }))).toBeNull();
  const charge = "State of Charge / %";
  expect(unitAsked(rideText, charge, own({ quantity: "state-of-charge", unit: "0 to 1" }))).toBe("%");
});

test("an answer for this very file leaves nothing to ask about, whatever an earlier one was read as", () => {
  const answers = answersOf(rideText, currentAs({ sign: "discharge-positive" }));
  expect(JSON.stringify(answers)).not.toContain("remembered");
  expect(hasDoubts(logOf(rideText, { mapping: answers }).doubts)).toBe(false);
});

test("who leaves the direction to the values of a file with our own label has the values followed", () => {
  const turned = packRows(3, 200).map((row) => row.map((value, at) => (at === 2 ? -value : value)));
  const mapping = { "Current / A": own({ quantity: "current", unit: "A" }) };
  const { summary, log } = logOf(tableText(packHeaders(3), turned), { mapping });
  expect([summary.currentSign, log.currentA[0]]).toEqual(["discharge-positive", -20]);
});

test("flags under a heading that does not say whose list they follow are asked about once, and read as raised till then", () => {
  const words = (raised: number) =>
    tableText(
      [...packHeaders(3), "Protection Flags"],
      packRows(3, 30).map((row, at) => [...row, at === 7 ? raised : 0]),
    );
  const { log, doubts } = logOf(words(512));
  expect([log.protectionFlags, log.otherFlags?.[7]]).toEqual([null, 512]);
  expect(hasDoubts(doubts)).toBe(true);
  const asked = questionsOf(words(512)).find(({ key }) => key === "Protection Flags");
  expect([asked?.proposal.quantity, asked?.why]).toEqual(["other-flags", expect.stringContaining("meaning not known")]);
  expect(hasDoubts(logOf(words(0)).doubts)).toBe(false);
  expect(hasDoubts(logOf(words(512), { mapping: asRemembered(answersOf(words(512))) }).doubts)).toBe(false);
  const said = { "Protection Flags": own({ quantity: "protection-flags" }) };
  expect(logOf(words(512), { mapping: said }).log.protectionFlags?.[7]).toBe(512);
});
