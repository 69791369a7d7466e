import { type ReadingReport, reportReadings } from "@/lib/diagnosis/reading-report";
import { asRemembered } from "@/lib/readings/column-mapping";
import { type ColumnAnswers, columnQuestions } from "@/lib/readings/column-questions";
import type { DecodedReadings } from "@/lib/readings/read-readings";
import { deniesRemembered, hasDoubts, type ReadingDoubts } from "@/lib/readings/reading-doubts";
import type { UnusableFile, UnusableReason } from "@/lib/readings/unusable-file";
import { decodeFile } from "./decode-file";
import { type FileHead, readFileHead } from "./file-head";
import { judgeTogether } from "./judge-together";
import { type AskColumns, enterStage, type ReadFileTask, type ReadReport } from "./reading-task";

/** Reasons that a person can remove by saying what the columns are. */
const answerable: ReadonlySet<UnusableReason> = new Set(["no-header", "no-time-column", "no-cells"]);

/**
 * Decodes and diagnoses a file with all that is known of its columns, or says what must be asked about them first: where the decoder
 * cannot place them, had to make out a unit, the direction of the current or a time zone for itself, or found that this file denies
 * what was confirmed for an earlier one. With the questions comes what the file shows as it stands.
 */
export async function readFile(task: ReadFileTask): Promise<ReadReport | AskColumns | UnusableFile> {
  const { path, sizeBytes, model, builtOn, receivedUnixS, columns, progress, helper } = task;
  const { answers, ask } = columns;
  enterStage(progress, "reading");
  try {
    const head = readFileHead(path, sizeBytes);
    const { remembered } = columns;
    const known = answers ?? (remembered === null ? null : withMark(remembered));
    const timeZone = known?.timeZone ?? null;
    const mapping = known?.mapping;
    const decoded = await decodeFile({
      path,
      sizeBytes,
      model,
      mapping,
      timeZone,
      builtOn,
      receivedUnixS,
      progress,
      helper,
    });
    const mayAsk = ask === "always" || (ask === "when-unsure" && known === null);
    if (decoded.kind === "unusable") {
      const questions = mayAsk && answerable.has(decoded.reason) ? questionsAbout(head, task, null) : null;
      // Where every heading is known there is nothing a person could add.
      const isOpen = questions?.questions.columns.some(({ why }) => why !== null) === true;
      return isOpen ? questions : decoded;
    }
    const isDenied = ask === "when-unsure" && answers === null && known !== null && deniesRemembered(decoded.doubts);
    if (isDenied || (mayAsk && (ask === "always" || hasDoubts(decoded.doubts)))) {
      const questions = questionsAbout(head, { columns: { ...columns, answers: known } }, decoded.doubts);
      if (questions !== null) {
        // Judged as it stands: a danger waits for nobody to answer.
        enterStage(progress, "judging");
        const { diagnosis, summary } = judge(decoded, task);
        return { ...questions, shows: { findings: diagnosis.findings, summary } };
      }
    }
    enterStage(progress, "judging");
    const report = judge(decoded, task);
    const columnsFrom = answers !== null ? "answers" : remembered !== null ? "remembered" : "headings";
    const used = known === null ? null : { mapping: known.mapping, timeZone: known.timeZone };
    return { ...report, shapeHash: head.shapeHash, columnsFrom, answers: used };
  } finally {
    helper?.close();
  }
}

/** A long log together with the second thread, where it is there; any other alone, to the same report. */
function judge(decoded: DecodedReadings, task: ReadFileTask): ReadingReport {
  const { model, context, baseline, helper, helperStarted, sharedFromRows } = task;
  const isThere = Atomics.load(new Int32Array(helperStarted), 0) === 1;
  if (helper !== null && isThere && decoded.log.rows >= sharedFromRows)
    return judgeTogether({ decoded, model, context, baseline }, helper);
  helper?.close();
  return reportReadings(decoded, model, context, baseline);
}

function withMark({ mapping, timeZone }: ColumnAnswers): ColumnAnswers {
  return { mapping: asRemembered(mapping), timeZone };
}

function questionsAbout(
  { lines, shapeHash }: FileHead,
  { columns }: Pick<ReadFileTask, "columns">,
  doubts: ReadingDoubts | null,
): AskColumns | null {
  const questions = columnQuestions(lines, columns.answers?.mapping, doubts);
  return questions === null || shapeHash === null ? null : { kind: "ask", questions, shapeHash, shows: null };
}
