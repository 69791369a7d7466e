import fc from "fast-check";
import { expect, test } from "vitest";
import { groupSerial, isSerial, makeSerial, readSerial, serialParts } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";

// Check character S computed by hand with the method of ISO/IEC 7064, whose code is tested against published values.
const serial = "TR24170392S";

const parts = fc.record({
  model: fc.string({ unit: fc.constantFrom(..."ABCDEFGHIJKLMNOPQRSTUVWXYZ"), minLength: 2, maxLength: 2 }),
  buildYear: fc.integer({ min: 2000, max: 2099 }),
  buildWeek: fc.integer({ min: 1, max: 53 }),
  sequence: fc.integer({ min: 0, max: 9999 }),
});

test("a serial is made of model, build week and sequence, and gives them back", () => {
  expect(makeSerial({ model: "TR", buildYear: 2024, buildWeek: 17, sequence: 392 })).toBe(serial);
  fc.assert(
    fc.property(parts, (given) => {
      expect(serialParts(makeSerial(given))).toEqual(given);
    }),
  );
});

test("parts outside their range make no serial", () => {
  const good = { model: "TR", buildYear: 2024, buildWeek: 17, sequence: 392 };
  for (const wrong of [
    { model: "tr" },
    { model: "T" },
    { buildYear: 1999 },
    { buildWeek: 54 },
    { buildWeek: 0 },
    { sequence: 10_000 },
    { sequence: 0.5 },
  ]) {
    expect(() => makeSerial({ ...good, ...wrong }), JSON.stringify(wrong)).toThrow(RangeError);
  }
});

test.for([
  ["as printed", "TR-2417-0392-S"],
  ["in lower case with spaces", " tr 2417 0392 s "],
  ["with dots", "TR.2417.0392.S"],
  ["with dashes from a word processor", "TR\u20132417\u20110392\u2014S"],
  ["in full-width forms", "ＴＲ２４１７０３９２Ｓ"],
  ["with invisible marks from a messenger", "\ufeffTR2417\u200b0392S"],
  ["as an address ending in it", "https://packs.example/p/TR24170392S"],
  ["as an address with a tail", "https://packs.example/p/TR24170392S/?src=label#top"],
  ["as a query", "https://packs.example/passport?serial=tr-2417-0392-s"],
  ["with the words of the label", "S/N: TR 2417 0392 S"],
  ["as the last line of a scanned text", "Traction pack\nTR-2417-0392-S"],
])("a serial is read %s", ([, typed = ""]) => {
  expect(readSerial(typed)).toEqual({ kind: "serial", serial });
});

test("grouping a serial and reading it gives the same serial", () => {
  fc.assert(
    fc.property(parts, (given) => {
      const made = makeSerial(given);
      expect(readSerial(groupSerial(made).toLowerCase())).toEqual({ kind: "serial", serial: made });
    }),
  );
});

test("nothing typed is empty, with or without separators", () => {
  for (const typed of ["", "  ", " - . ", "\u200b"]) expect(readSerial(typed)).toEqual({ kind: "empty" });
});

test("a missing or doubled character is told by the count", () => {
  expect(readSerial("TR-2417-392-S")).toEqual({ kind: "wrong-length", characters: 10 });
  expect(readSerial("TR-2417-03922-S")).toEqual({ kind: "wrong-length", characters: 12 });
});

test("a foreign character is named with its place, and never replaced", () => {
  expect(readSerial("TR-2417-Ä392-S")).toEqual({ kind: "foreign-character", character: "Ä", position: 7 });
  // The Turkish dotless i would become a plain I by the general rule for capitals.
  expect(readSerial("TR24\u013170392S")).toMatchObject({ kind: "foreign-character", position: 5 });
  expect(readSerial("TR24😀70392S")).toMatchObject({ kind: "foreign-character", character: "😀", position: 5 });
});

test("two different serials in one paste are not chosen between", () => {
  const other = makeSerial({ model: "TR", buildYear: 2024, buildWeek: 17, sequence: 393 });
  expect(readSerial(`${serial}, ${other}`).kind).not.toBe("serial");
});

test("O for 0 is offered, not accepted", () => {
  expect(readSerial("TR2417O392S")).toEqual({ kind: "check-failed", entered: "TR2417O392S", likely: [serial] });
  expect(readSerial("TR24I7O392S")).toMatchObject({ kind: "check-failed", likely: [serial] });
});

test("a slip in full-width forms is explained like any other", () => {
  expect(readSerial("ＴＲ２４１７Ｏ３９２Ｓ")).toMatchObject({
    kind: "check-failed",
    entered: "TR2417O392S",
    likely: [serial],
  });
});

test("5 for S and swapped neighbours are offered", () => {
  expect(readSerial("TR241703925")).toMatchObject({ likely: expect.arrayContaining([serial]) });
  expect(readSerial("TR24710392S")).toMatchObject({ likely: expect.arrayContaining([serial]) });
});

test("a swap of neighbours reads as the serial meant or fails with it among the candidates", () => {
  fc.assert(
    fc.property(parts, fc.integer({ min: 0, max: 9 }), (given, at) => {
      const made = makeSerial(given);
      const swapped = made.slice(0, at) + made.charAt(at + 1) + made.charAt(at) + made.slice(at + 2);
      // The one pair in each state that the check character cannot see: it reads as another serial.
      fc.pre(swapped !== made && !isSerial(swapped));
      expect(readSerial(swapped)).toMatchObject({ kind: "check-failed", likely: expect.arrayContaining([made]) });
    }),
  );
});

test("any text whatever is read without a fault, and what is read is a serial", () => {
  fc.assert(
    fc.property(fc.string({ unit: "binary", maxLength: 60 }), (typed) => {
      const reading = readSerial(typed);
      if (reading.kind === "serial") expect(isSerial(reading.serial)).toBe(true);
      else expect(serialSentence(reading)).toMatch(/[.?]$/);
    }),
  );
});

test("the sentence says what is wrong and names what the label may say", () => {
  const sentenceOf = (typed: string) => {
    const reading = readSerial(typed);
    if (reading.kind === "serial") throw new Error(`${typed} reads as a serial`);
    return serialSentence(reading);
  };
  expect(sentenceOf("")).toMatch(/scan the label/i);
  expect(sentenceOf("TR2417")).toMatch(/11 characters; this has 6/);
  expect(sentenceOf("TR-2417-Ä392-S")).toMatch(/Character 7 \(Ä\)/);
  expect(sentenceOf("TR2417O392S")).toMatch(/TR-2417-0392-S\?$/);
  expect(sentenceOf("TR24170393S")).toMatch(/Read the label once more/);
});
