import type { MoveView } from "@/lib/data/returns/returns";
import { returnStatusWords } from "@/lib/returns/return-status";
import { LocalTime } from "./local-time";

interface MoveListProps {
  readonly moves: readonly MoveView[];
  /** Says with each step which version of the return it made: the bench decides on versions. */
  readonly withVersions?: boolean;
}

/** Who did what and why, oldest first, as it was recorded. */
export function MoveList({ moves, withVersions = false }: MoveListProps) {
  return (
    <ol className="border-l-2 border-rule">
      {moves.map((move) => (
        <li key={move.dataVersion} className="relative pb-4 pl-5 last:pb-0">
          <span aria-hidden className="absolute top-1.5 -left-[7px] size-3 rounded-full border-2 border-ink bg-paper" />
          <p>
            <strong>{returnStatusWords(move.to)}</strong>, {move.actorName}
          </p>
          <p className={withVersions ? "text-sm text-soft" : "text-soft"}>
            {withVersions ? `Version ${move.dataVersion}, ` : null}
            <LocalTime at={move.at} />
          </p>
          {move.reason === "" ? null : <p dir="auto">{move.reason}</p>}
        </li>
      ))}
    </ol>
  );
}
