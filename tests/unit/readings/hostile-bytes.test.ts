import fc from "fast-check";
import { expect, test } from "vitest";
import type { ReadingResult } from "@/lib/readings/read-readings";
import { synchrony } from "@/lib/readings/synchrony";
import { validityMasks } from "@/lib/readings/validity";
import { decodeBytes, packText } from "./pack-file";

/** Mutated files tried; more with MUTATIONS=1000000. */
const mutations = Number(process.env.MUTATIONS ?? 20_000);

/** Deterministic numbers in [0, 1): the mulberry32 generator, from memory. */
function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
}

/** What holds for every input: a whole log in order, or one sentence. */
function expectSound(result: ReadingResult): void {
  if (result.kind === "unusable") {
    if (!/^[^\n]{10,1000}\.$/.test(result.sentence)) throw new Error(`no sentence: ${result.sentence}`);
    return;
  }
  const { log, summary } = result;
  const everyColumn = [
    log.packVoltageV,
    log.currentA,
    ...log.cellVoltagesV,
    ...log.temperatures.map((column) => column.valuesC),
  ];
  if (everyColumn.some((column) => column.length !== log.rows) || log.timeS.length !== log.rows)
    throw new Error("columns of different lengths");
  if (everyColumn.some((column) => column.some((value) => Math.abs(value) === Number.POSITIVE_INFINITY)))
    throw new Error("an infinite value");
  for (let row = 1; row < log.rows; row++) {
    if (!((log.timeS[row] ?? -1) >= (log.timeS[row - 1] ?? 0))) throw new Error(`time falls in row ${row}`);
    if ((log.segment[row] ?? -1) < (log.segment[row - 1] ?? 0)) throw new Error(`segment falls in row ${row}`);
  }
  if (!(summary.coverage >= 0 && summary.coverage <= 1)) throw new Error(`coverage ${summary.coverage}`);
  if (summary.groups !== log.cellVoltagesV.length || summary.rows !== log.rows || log.rows === 0)
    throw new Error("summary does not fit the log");
  for (const { line, reason } of summary.rejected)
    if (line < 2 || reason === "" || /[\n\r]/.test(reason)) throw new Error(`bad reason: ${reason}`);
  validityMasks(log);
  synchrony(log);
}

const seeds = [
  packText(3, 12),
  packText(2, 8).replaceAll(",", ";").replaceAll(".", ","),
  `Serial: AB-1\n${packText(2, 8).replaceAll("\n", "\r\n")}`,
  "Date,Time,Current(A),VC1,VC2,t1_raw\n2024-03-01,10:00:00,1,3700,3701,60\n2024-03-01,10:00:01,2,3702,3703,61\n",
  "timestamp|current|cell_voltage[0]|cell_voltage[1]|percentage|CONTACTOR_ERROR\n2024-03-01T10:00:00Z|1|3.7|3.8|0.5|true\n2024-03-01T10:00:01Z|1|3.7|3.8|0.5|off\n",
].map((text) => new TextEncoder().encode(text));
/** Bytes that mean something to a decoder come up more often than others. */
const tellingBytes = [...',;\t|"\n\r.-+eE0195 :/#']
  .map((character) => character.charCodeAt(0))
  .concat(0, 255, 0xef, 0xbb, 0xbf, 0xc2, 0xb0);

function mutated(original: Uint8Array, random: () => number): Uint8Array {
  const bytes = [...original];
  const changes = 1 + Math.floor(random() * 6);
  for (let change = 0; change < changes; change++) {
    const at = Math.floor(random() * bytes.length);
    const byte =
      random() < 0.7 ? (tellingBytes[Math.floor(random() * tellingBytes.length)] ?? 0) : Math.floor(random() * 256);
    const kind = random();
    if (kind < 0.4) bytes[at] = byte;
    else if (kind < 0.6) bytes.splice(at, 0, byte);
    else if (kind < 0.75) bytes.splice(at, 1 + Math.floor(random() * 8));
    else if (kind < 0.9) bytes.splice(at, 0, ...bytes.slice(at, at + Math.floor(random() * 40)));
    else bytes.length = at;
  }
  return Uint8Array.from(bytes);
}

test("no mutated file throws, hangs or gives an unsound log", { timeout: 600_000 }, () => {
  const random = randomFrom(20240229);
  let logs = 0;
  for (let count = 0; count < mutations; count++) {
    const bytes = mutated(seeds[count % seeds.length] ?? new Uint8Array(0), random);
    try {
      const result = decodeBytes(bytes);
      expectSound(result);
      if (result.kind === "log") logs++;
    } catch (error) {
      throw new Error(`mutation ${count}: ${JSON.stringify(new TextDecoder().decode(bytes))}`, { cause: error });
    }
  }
  // A generator that only makes rubbish would test nothing but the refusals.
  expect(logs / mutations).toBeGreaterThan(0.5);
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
    fc.property(fc.nat(seeds.length - 1), fc.nat(), fc.integer({ min: 1, max: 50 }), (at, seed, chunkBytes) => {
      const bytes = mutated(seeds[at] ?? new Uint8Array(0), randomFrom(seed));
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
