"use client";

import { useEffect, useRef, useState } from "react";
import { askWhetherTicked, type SignList } from "@/lib/safety/signs-in-words";

interface SignsQuestionProps {
  /** Name of the field with the words, and of the boxes with the signs, in the form this stands in. */
  readonly words: string;
  readonly signs: string;
  readonly list: SignList;
}

/** Stands under the words of a form and asks, as they are typed, whether the sign they speak of is ticked. It holds nothing up. */
export function SignsQuestion({ words, signs, list }: SignsQuestionProps) {
  const place = useRef<HTMLDivElement>(null);
  const [question, setQuestion] = useState<string | null>(null);

  useEffect(() => {
    const form = place.current?.closest("form");
    if (form == null) return;
    const look = () => {
      const sent = new FormData(form);
      setQuestion(askWhetherTicked(String(sent.get(words) ?? ""), sent.getAll(signs).map(String), list));
    };
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
  }, [words, signs, list]);

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
