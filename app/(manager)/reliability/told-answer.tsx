interface ToldAnswerProps {
  /** The number asked for and what it costs, a sentence each. */
  readonly answer: readonly string[];
  /** What comes on top of it and is known already; left out where empty. */
  readonly onTop?: string;
  /** What is to be known beside it; empty ones are left out. */
  readonly caveats: readonly string[];
}

/** The answer of a page in large type, and what is to be known beside it in the type of the rest. */
export function ToldAnswer({ answer, onTop = "", caveats }: ToldAnswerProps) {
  const told = caveats.filter((sentence) => sentence !== "");
  return (
    <div className="max-w-4xl space-y-2">
      <p className="text-xl font-semibold leading-snug">{answer.join(" ")}</p>
      {onTop === "" ? null : <p>{onTop}</p>}
      {told.length === 0 ? null : <p>{told.join(" ")}</p>}
    </div>
  );
}
