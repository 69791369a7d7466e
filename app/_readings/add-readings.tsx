"use client";

import { useState } from "react";
import { Button } from "@/app/_components/button";
import { Notice } from "@/app/_components/notice";
import { QuestionForm } from "@/app/_components/question-form";
import { addReadingsAction } from "./actions";
import { ReadingInPlainWords } from "./reading-in-plain-words";
import { type ReadFile, ReadingUpload } from "./reading-upload";

interface AddReadingsProps {
  readonly reference: string;
  readonly serial: string;
  readonly version: number;
  /** Nothing is to be connected to this pack. */
  readonly isDanger: boolean;
}

/** Readings that come after the form was sent: read at once, looked at, then added; from there on they are the ones that count. */
export function AddReadings({ reference, serial, version, isDanger }: AddReadingsProps) {
  const [read, setRead] = useState<ReadFile | null>(null);
  const [againOf, setAgainOf] = useState<ReadFile | null>(null);
  return (
    <details className="card">
      <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">Add readings of this pack</summary>
      <div className="space-y-4 border-t border-rule p-3">
        {isDanger ? (
          <Notice kind="danger" title="Do not connect anything to this pack">
            <p>It is set apart or showed a danger sign. Add only a file that was saved before.</p>
          </Notice>
        ) : null}
        {read === null ? (
          <ReadingUpload
            serial={serial}
            reference={reference}
            error={undefined}
            againOf={againOf}
            onRead={(taken) => {
              setAgainOf(null);
              setRead(taken);
            }}
          />
        ) : (
          <>
            <ReadingInPlainWords summary={read.summary} />
            <QuestionForm
              id="add-readings"
              action={addReadingsAction}
              hidden={{ reference, fileId: read.summary.id, seenVersion: String(version) }}
              questions={[{ name: "why", label: "Where do these readings come from?", kind: "long" }]}
              button="Add these readings"
            />
            <div className="flex flex-wrap gap-3">
              <Button weight="second" onClick={() => setRead(null)}>
                Choose another file
              </Button>
              <Button
                weight="plain"
                onClick={() => {
                  setAgainOf(read);
                  setRead(null);
                }}
              >
                Change how its columns are read
              </Button>
            </div>
            <p className="text-soft">Not added yet: a file that is not added is let go after a day.</p>
          </>
        )}
      </div>
    </details>
  );
}
