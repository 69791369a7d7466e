import { FileUp } from "lucide-react";
import { type ChangeEvent, useEffect, useRef, useState } from "react";
import { Button } from "@/app/_components/button";
import { FieldNotes, fieldWiring } from "@/app/_components/field";
import { MAX_READING_FILE_BYTES, readingFileEmpty, readingFileTooLarge } from "@/lib/readings/file-limit";
import type { KeptReading } from "./draft";
import { sendReadingFile } from "./send-reading-file";

interface ReadingUploadProps {
  readonly serial: string;
  readonly error: string | undefined;
  readonly onRead: (reading: KeptReading) => void;
}

type Stage =
  | { kind: "idle" }
  | { kind: "sending"; fileName: string; share: number }
  | { kind: "refused"; sentence: string };

/** Chosen, sent and read at once, so that a wrong file is known while the customer is still there. */
export function ReadingUpload({ serial, error, onRead }: ReadingUploadProps) {
  const [stage, setStage] = useState<Stage>({ kind: "idle" });
  const underWay = useRef<AbortController | null>(null);
  useEffect(() => () => underWay.current?.abort(), []);

  async function send(event: ChangeEvent<HTMLInputElement>) {
    const [file] = event.target.files ?? [];
    event.target.value = "";
    if (file === undefined) return;
    if (file.size > MAX_READING_FILE_BYTES) return setStage({ kind: "refused", sentence: readingFileTooLarge });
    if (file.size === 0) return setStage({ kind: "refused", sentence: readingFileEmpty });
    const controller = new AbortController();
    underWay.current = controller;
    const onProgress = (share: number) => setStage({ kind: "sending", fileName: file.name, share });
    onProgress(0);
    const answer = await sendReadingFile({ file, serial, signal: controller.signal, onProgress });
    switch (answer.kind) {
      case "read":
        return onRead({ serial, summary: answer.summary });
      case "refused":
        return setStage({ kind: "refused", sentence: answer.sentence });
      case "cancelled":
        return setStage({ kind: "idle" });
      default: {
        const never: never = answer;
        return never;
      }
    }
  }

  if (stage.kind === "sending") {
    const percent = Math.floor(stage.share * 100);
    return (
      <div className="card space-y-3 p-4">
        <label className="block">
          <span className="font-semibold break-all">{stage.fileName}</span>
          <progress max={100} value={percent} className="progress mt-2" />
        </label>
        <p aria-hidden>{percent < 100 ? `${percent} % sent` : "Sent. Reading it now…"}</p>
        {/* Said once for each stage; every percent would drown everything else. */}
        <p role="status" className="sr-only">
          {percent < 100 ? "Sending the file" : "Sent. Reading it now"}
        </p>
        <Button weight="second" onClick={() => underWay.current?.abort()}>
          Cancel
        </Button>
      </div>
    );
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
    </div>
  );
}
