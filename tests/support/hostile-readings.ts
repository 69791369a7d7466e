import { gateSynchrony } from "@/lib/diagnosis/stages/synchrony";
import { columnAnswersSchema } from "@/lib/readings/column-answers.schema";
import { heldQuestionsSchema } from "@/lib/readings/column-choice.schema";
import { columnQuestions } from "@/lib/readings/column-questions";
import { headLines } from "@/lib/readings/head-lines";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import type { ReadingResult } from "@/lib/readings/read-readings";
import { decodeBytes, packText } from "@/tests/support/pack-file";

/** What holds for every input: a whole log in order, or one sentence. */
export function expectSound(result: ReadingResult): void {
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
  gateSynchrony(surveyRows(log, 40));
}

/** What is asked about the columns of every input can be put to a person, and what is proposed can be answered as it stands. */
export function expectAskable(bytes: Uint8Array): void {
  const questions = columnQuestions(headLines(bytes, true), undefined, null);
  if (questions === null) return;
  heldQuestionsSchema.parse({ ...questions, heldId: "held", timeZone: "UTC", danger: null });
  const mapping = Object.fromEntries(questions.columns.map(({ key, proposal }) => [key, proposal]));
  if (Object.keys(mapping).length < questions.columns.length) throw new Error("two columns under one key");
  columnAnswersSchema.parse({ mapping, timeZone: null });
  expectSound(decodeBytes(bytes, { mapping }));
}

const texts = [
  packText(3, 12),
  packText(2, 8).replaceAll(",", ";").replaceAll(".", ","),
  `Serial: AB-1\n${packText(2, 8).replaceAll("\n", "\r\n")}`,
  rowsBelow("Date,Time,Current(A),VC1,VC2,t1_raw", (row) => `2024-03-01,10:00:0${row},${row},370${row},3701,6${row}`),
  rowsBelow(
    "timestamp|current|cell_voltage[0]|cell_voltage[1]|percentage|CONTACTOR_ERROR",
    (row) => `2024-03-01T10:00:0${row}Z|${row}|3.7|3.8|0.5|${row % 2 === 0 ? "true" : "off"}`,
  ),
];

function rowsBelow(header: string, rowOf: (row: number) => string): string {
  return `${[header, ...Array.from({ length: 9 }, (_, row) => rowOf(row))].join("\n")}\n`;
}

/** The files that are mutated: delimiters, marks, encodings and shapes of all kinds. */
export const hostileSeeds: readonly Uint8Array[] = [
  ...texts.map((text) => new TextEncoder().encode(text)),
  Uint8Array.from(
    [0xff, 0xfe, ...packText(2, 6)].flatMap((mark) => (typeof mark === "number" ? [mark] : [mark.charCodeAt(0), 0])),
  ),
  Uint8Array.from([0xef, 0xbb, 0xbf, ...new TextEncoder().encode(packText(2, 6).replaceAll(",", "\t"))]),
];

/** Packed files under a wrong name: the first bytes of a zip archive (a workbook is one) and of a gzip archive, then a readable table. */
export const packedSeeds: readonly Uint8Array[] = [
  Uint8Array.from([0x50, 0x4b, 0x03, 0x04, ...new TextEncoder().encode(packText(2, 3))]),
  Uint8Array.from([0x1f, 0x8b, 0x08, 0x00, ...new TextEncoder().encode(packText(2, 3))]),
];

/** Bytes that mean something to a decoder come up more often than others. */
const tellingBytes = [...',;\t|"\n\r.-+eE0195 :/#']
  .map((character) => character.charCodeAt(0))
  .concat(0, 255, 0xef, 0xbb, 0xbf, 0xc2, 0xb0);

/** One to six changes: a byte put, added or doubled, a stretch cut out, the end cut off. */
export function mutated(original: Uint8Array, random: () => number): Uint8Array {
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
