import fc from "fast-check";
import { expect, test } from "vitest";
import { expectAskable, expectSound, hostileSeeds, mutated, packedSeeds } from "@/tests/support/hostile-readings";
import { decodeBytes, packText } from "@/tests/support/pack-file";
import { seededRandom } from "@/tests/support/seeded-random";

/** Mutated files tried; a million with `npm run -s bench -- fuzz`. */
const mutations = 5_000;
/** Of one in so many it is also asked what its columns are. */
const askedEvery = 5;

test("no mutated file throws, hangs or gives an unsound log", { timeout: 600_000 }, () => {
  const random = seededRandom(20240229);
  let logs = 0;
  for (let count = 0; count < mutations; count++) {
    const bytes = mutated(hostileSeeds[count % hostileSeeds.length] ?? new Uint8Array(0), random);
    try {
      const result = decodeBytes(bytes);
      expectSound(result);
      if (count % askedEvery === 0) expectAskable(bytes);
      if (result.kind === "log") logs++;
    } catch (error) {
      throw new Error(`mutation ${count}: ${JSON.stringify(new TextDecoder().decode(bytes))}`, { cause: error });
    }
  }
  // A generator that only makes rubbish would test nothing but the refusals.
  expect(logs / mutations).toBeGreaterThan(0.5);
});

test("a packed file under the name of a table is refused in words and never unpacked, whatever stands behind its first bytes", () => {
  fc.assert(
    fc.property(fc.nat(packedSeeds.length - 1), fc.uint8Array({ maxLength: 300 }), (at, rest) => {
      const result = decodeBytes(Uint8Array.from([...(packedSeeds[at]?.subarray(0, 4) ?? []), ...rest]));
      expect(result).toMatchObject({
        kind: "unusable",
        reason: "not-text",
        sentence: expect.stringContaining("archive"),
      });
    }),
    { numRuns: 200 },
  );
});

test("no bytes at all throw", () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 300 }), (bytes) => expectSound(decodeBytes(bytes))),
    { numRuns: 500 },
  );
});

test("no text built from the marks of a table throws", () => {
  const pieces = fc.constantFrom(
    ",",
    ";",
    "\t",
    "\n",
    "\r\n",
    '"',
    "Test Time / s",
    "Current / A",
    "Cell 1",
    "Cell 400",
    "Time",
    "Date",
    "1",
    "-2.5",
    "3,7",
    "2024-01-02",
    "10:00",
    "NaN",
    "1e308",
    "°C",
    "\uFEFF",
    "\0",
  );
  fc.assert(
    fc.property(fc.array(pieces, { maxLength: 60 }), (parts) =>
      expectSound(decodeBytes(new TextEncoder().encode(parts.join("")))),
    ),
    { numRuns: 1500 },
  );
});

test("how the bytes are cut into chunks makes no difference", () => {
  const long = new TextEncoder().encode(packText(6, 2500));
  const whole = decodeBytes(long);
  for (const chunkBytes of [1021, 65_536, 65_537, 100_000]) expect(decodeBytes(long, {}, chunkBytes)).toEqual(whole);
  fc.assert(
    fc.property(fc.nat(hostileSeeds.length - 1), fc.nat(), fc.integer({ min: 1, max: 50 }), (at, seed, chunkBytes) => {
      const bytes = mutated(hostileSeeds[at] ?? new Uint8Array(0), seededRandom(seed));
      expect(decodeBytes(bytes, {}, chunkBytes)).toEqual(decodeBytes(bytes));
    }),
    { numRuns: 300 },
  );
});

test("a line without an end is given up at 64 kB and the next line is read", () => {
  const text = packText(2, 10);
  const lines = text.split("\n");
  lines[3] = "9".repeat(300_000);
  for (const chunkBytes of [4096, 1 << 20]) {
    const result = decodeBytes(new TextEncoder().encode(lines.join("\n")), {}, chunkBytes);
    if (result.kind !== "log") throw new Error(result.sentence);
    expect(result.summary.rows).toBe(9);
    expect(result.summary.rejected).toEqual([{ line: 4, reason: "the line is longer than 65536 bytes" }]);
    expect(result.log.line[3]).toBe(6);
  }
});
