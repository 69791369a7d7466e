import { LocalTime } from "@/app/_components/local-time";
import type { BenchReturn } from "@/lib/data/bench-returns";
import { returnStatusWords } from "@/lib/returns/return-turn";
import { BenchSection } from "./bench-section";

/** Who did what and why, oldest first, with the version of the return each step made. */
export function MoveList({ moves }: Pick<BenchReturn, "moves">) {
  return (
    <BenchSection title="History">
      <ol className="border-l-2 border-rule">
        {moves.map((move) => (
          <li key={move.dataVersion} className="relative pb-4 pl-5 last:pb-0">
            <span
              aria-hidden
              className="absolute top-1.5 -left-[7px] size-3 rounded-full border-2 border-ink bg-paper"
            />
            <p>
              <strong>{returnStatusWords(move.to)}</strong>, {move.actorName}
            </p>
            <p className="text-sm text-soft">
              Version {move.dataVersion}, <LocalTime at={move.at} />
            </p>
            {move.reason === "" ? null : <p dir="auto">{move.reason}</p>}
          </li>
        ))}
      </ol>
    </BenchSection>
  );
}
