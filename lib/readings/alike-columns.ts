import type { ColumnQuestion } from "@/lib/readings/column-questions";
import { headingStem } from "@/lib/readings/header-words";

/** From how many columns on one question is asked for all of them. Engineering default: three still fit a telephone. */
const FOLDED_FROM = 4;

/**
 * Questions in the order of the file, neighbours that raise the same doubt about the same quantity in the same unit put
 * together; those too few to be worth it stand alone.
 */
export function foldAlikeColumns(questions: readonly ColumnQuestion[]): readonly (readonly ColumnQuestion[])[] {
  const runs: ColumnQuestion[][] = [];
  for (const question of questions) {
    const run = runs.at(-1);
    if (run?.[0] !== undefined && isAlike(run[0], question)) run.push(question);
    else runs.push([question]);
  }
  return runs.flatMap((run) => (run.length >= FOLDED_FROM ? [run] : run.map((question) => [question])));
}

function isAlike(one: ColumnQuestion, other: ColumnQuestion): boolean {
  return (
    one.why === other.why &&
    one.proposal.quantity === other.proposal.quantity &&
    one.proposal.unit === other.proposal.unit &&
    one.proposal.sign === other.proposal.sign &&
    // Columns that are left out have nothing in common but that: one answer serves only those of one name.
    (one.proposal.quantity !== "ignore" || headingStem(one.key) === headingStem(other.key))
  );
}
