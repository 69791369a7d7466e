import { FileUp } from "lucide-react";
import dynamic from "next/dynamic";
import Link from "next/link";
import { type ChangeEvent, useCallback, useEffect, useRef, useState } from "react";
import { FieldNotes, fieldWiring } from "@/app/_components/field";
import type { HeldQuestions } from "@/lib/readings/column-choice.schema";
import { MAX_READING_FILE_BYTES, readingFileEmpty, readingFileTooLarge } from "@/lib/readings/file-limit";
import type { ReadingSummary } from "./reading-in-plain-words";
import { ReadingUnderWay } from "./reading-under-way";
import { letHeldGo, type SendAnswer, type SendingStage, sendColumns, sendReadingFile } from "./send-reading-file";

// Seldom needed, and heavy with the names of everything a column may be.
const AskColumns = dynamic(() => import("./ask-columns").then((module) => module.AskColumns), { ssr: false });

/** What the server made of a file, with the pack it belongs to. */
export interface ReadFile {
  readonly serial: string;
  readonly summary: ReadingSummary;
}

interface ReadingUploadProps {
  readonly serial: string;
  /** The open return it is brought for; missing while its form was not sent. */
  readonly reference?: string;
  readonly error: string | undefined;
  readonly onRead: (reading: ReadFile) => void;
  /** A file that was read already and whose columns are to be looked at again; null for a new file. */
  readonly againOf: ReadFile | null;
}

type Stage =
  | { kind: "idle" }
  | { kind: "under-way"; fileName: string; how: SendingStage }
  | { kind: "asking"; questions: HeldQuestions }
  | { kind: "refused"; sentence: string };

interface Watch {
  readonly signal: AbortSignal;
  readonly onStage: (stage: SendingStage) => void;
}

/** Chosen, sent and read at once, so that a wrong file is known while the customer is still there. */
export function ReadingUpload({ serial, reference, error, onRead, againOf }: ReadingUploadProps) {
  const [stage, setStage] = useState<Stage>({ kind: "idle" });
  const fileName = useRef(againOf?.summary.fileName ?? "");
  const underWay = useRef<AbortController | null>(null);
  useEffect(() => () => underWay.current?.abort(), []);

  const follow = useCallback(
    async (sending: (watch: Watch) => Promise<SendAnswer>) => {
      const controller = new AbortController();
      underWay.current = controller;
      const onStage = (how: SendingStage) => setStage({ kind: "under-way", fileName: fileName.current, how });
      onStage({ kind: "sending", share: 0 });
      const answer = await sending({ signal: controller.signal, onStage });
      switch (answer.kind) {
        case "read":
          return onRead({ serial, summary: answer.summary });
        case "ask":
          return setStage({ kind: "asking", questions: answer.questions });
        case "refused":
          return setStage({ kind: "refused", sentence: answer.sentence });
        case "cancelled":
          return setStage({ kind: "idle" });
        default: {
          const never: never = answer;
          return never;
        }
      }
    },
    [serial, onRead],
  );

  const again = useRef(againOf);
  useEffect(() => {
    // In its own turn, so that a first rendering that React throws away sends nothing.
    const timer = setTimeout(() => {
      const fileId = again.current?.summary.id;
      again.current = null;
      if (fileId !== undefined) follow((watch) => sendColumns({ fileId }, watch));
    });
    return () => clearTimeout(timer);
  }, [follow]);

  async function send(event: ChangeEvent<HTMLInputElement>) {
    const [file] = event.target.files ?? [];
    event.target.value = "";
    if (file === undefined) return;
    if (file.size > MAX_READING_FILE_BYTES) return setStage({ kind: "refused", sentence: readingFileTooLarge });
    if (file.size === 0) return setStage({ kind: "refused", sentence: readingFileEmpty });
    fileName.current = file.name;
    await follow((watch) => sendReadingFile({ file, serial, reference, ...watch }));
  }

  if (stage.kind === "asking") {
    const { questions } = stage;
    return (
      <AskColumns
        fileName={fileName.current}
        questions={questions}
        onAnswer={(answers) => follow((watch) => sendColumns({ heldId: questions.heldId, answers }, watch))}
        onOtherFile={() => {
          letHeldGo(questions.heldId);
          setStage({ kind: "idle" });
        }}
      />
    );
  }
  if (stage.kind === "under-way") {
    return <ReadingUnderWay fileName={stage.fileName} stage={stage.how} onCancel={() => underWay.current?.abort()} />;
  }
  const hint = "A CSV file saved from the pack, up to 256 MB. It is read at once.";
  const wrong = stage.kind === "refused" ? stage.sentence : error;
  return (
    <div className={wrong === undefined ? "" : "border-l-4 border-danger pl-3"}>
      <p className="font-semibold">Readings file</p>
      <div role={stage.kind === "refused" ? "alert" : undefined}>
        <FieldNotes id="readingFileId" hint={hint} error={wrong} />
      </div>
      <label className="mt-3 flex min-h-14 cursor-pointer items-center justify-center gap-2 rounded border-2 border-dashed border-edge bg-raised px-4 py-2 font-semibold focus-within:outline-3 focus-within:outline-offset-2 focus-within:outline-accent hover:border-ink hover:bg-sunk">
        <FileUp aria-hidden size={20} />
        Choose the readings file
        <input
          {...fieldWiring("readingFileId", hint, wrong)}
          type="file"
          accept=".csv,.txt,text/csv,text/plain"
          onChange={send}
          className="sr-only"
        />
      </label>
      <Link
        href="/columns"
        className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
      >
        What is remembered of your files
      </Link>
    </div>
  );
}
