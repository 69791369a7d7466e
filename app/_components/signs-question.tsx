"use client";

import { useCallback, useEffect, useRef, useState } from "react";
import { askOfFlag, askWhetherTicked, type SignList } from "@/lib/safety/signs-in-words";

interface SignsQuestionProps {
  /** Name of the field with the words, and of the boxes with the signs, in the form this stands in. */
  readonly words: string;
  readonly signs: string;
  readonly list: SignList;
}

/** Stands under the words of a form and asks, as they are typed, whether the sign they speak of is ticked. It holds nothing up. */
export function SignsQuestion({ words, signs, list }: SignsQuestionProps) {
  const ask = useCallback(
    (sent: FormData) => askWhetherTicked(String(sent.get(words) ?? ""), sent.getAll(signs).map(String), list),
    [words, signs, list],
  );
  return <QuestionOfForm ask={ask} />;
}

const ofReason = (sent: FormData) => askOfFlag(String(sent.get("reason") ?? ""));

/** The same under the reason of a safety flag, where there is no box to tick. */
export function FlagQuestion() {
  return <QuestionOfForm ask={ofReason} />;
}

/** Asks anew at every change of the form it stands in. */
function QuestionOfForm({ ask }: { ask: (sent: FormData) => string | null }) {
  const place = useRef<HTMLDivElement>(null);
  const [question, setQuestion] = useState<string | null>(null);

  useEffect(() => {
    const form = place.current?.closest("form");
    if (form == null) return;
    const look = () => setQuestion(ask(new FormData(form)));
    // What was typed before the script arrived is looked at too.
    look();
    form.addEventListener("input", look);
    form.addEventListener("reset", clear);
    return () => {
      form.removeEventListener("input", look);
      form.removeEventListener("reset", clear);
    };
    function clear() {
      setQuestion(null);
    }
  }, [ask]);

  return (
    <div ref={place}>
      <AskedOfSigns question={question} />
    </div>
  );
}

/** The question itself, read out when it appears. */
export function AskedOfSigns({ question }: { question: string | null }) {
  return (
    <div role="status">
      {question === null ? null : <p className="border-l-8 border-warn pl-3 font-semibold">{question}</p>}
    </div>
  );
}
