import { LocalTime } from "@/app/_components/local-time";
import type { MoveView } from "@/lib/data/returns";
import { returnStatusWords } from "@/lib/returns/return-turn";

/** Who did what and why, oldest first, as it was recorded. */
export function MoveList({ moves }: { moves: readonly MoveView[] }) {
  return (
    <ol className="border-l-2 border-rule">
      {moves.map((move) => (
        <li key={`${move.at.toISOString()} ${move.to}`} className="relative pb-4 pl-5 last:pb-0">
          <span aria-hidden className="absolute top-1.5 -left-[7px] size-3 rounded-full border-2 border-ink bg-paper" />
          <p>
            <strong>{returnStatusWords(move.to)}</strong>, {move.actorName}
          </p>
          <p className="text-soft">
            <LocalTime at={move.at} />
          </p>
          {move.reason === "" ? null : <p dir="auto">{move.reason}</p>}
        </li>
      ))}
    </ol>
  );
}
