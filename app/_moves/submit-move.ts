import { revalidatePath } from "next/cache";
import type { z } from "zod";
import { type MoveState, refused } from "@/app/_components/move-state";
import type { Actor } from "@/lib/access/actor";
import { readChangesSince } from "@/lib/data/returns/changes-since";
import { type MoveAnswer, makeMove } from "@/lib/data/returns/move-return";
import type { Decision } from "@/lib/returns/decision.schema";
import { type MoveForm, readMoveForm } from "@/lib/returns/move-form.schema";
import type { MoveName } from "@/lib/returns/move-names";
import { refusedAt } from "@/lib/returns/refused-at";

/** Reads the form of a move, makes it, and answers for the form: done, or why not with all that was typed. */
export async function submitMove(actor: Actor, form: FormData): Promise<MoveState> {
  const typed = Object.fromEntries(
    [...form].flatMap(([key, value]) => (typeof value === "string" && !key.startsWith("$") ? [[key, value]] : [])),
  );
  const read = readMoveForm(form);
  if (!read.success) return refusedByItsSchema(read.error.issues[0], typed);
  const { reference, name, reason, seenVersion, stated } = read.data;
  const answer = await makeMove(actor, reference, { name, reason, seenVersion, stated, ...decisionIn(read.data) });
  return stateAfter(actor, { reference, name, seenVersion, typed }, answer);
}

function refusedByItsSchema(issue: z.core.$ZodIssue | undefined, typed: Seen["typed"]): MoveState {
  const field = issue?.path.at(-1);
  return refused(issue?.message ?? "Reload the page.", typed, field === undefined ? null : String(field));
}

interface Seen {
  readonly reference: string;
  readonly name: MoveName;
  readonly seenVersion: number;
  readonly typed: Readonly<Record<string, string>>;
}

/** Done, or refused with where it stood, where it stands now, and what others did. The page is read anew where it moved. */
export async function stateAfter(actor: Actor, seen: Seen, answer: MoveAnswer): Promise<MoveState> {
  if (answer.ok) {
    revalidatePath("/bench", "layout");
    revalidatePath("/dealer", "layout");
    return { kind: "done" };
  }
  const isStale = answer.reason === "someone-changed-this" || answer.reason === "not-from-here";
  const meanwhile = isStale ? await readChangesSince(actor, seen.reference, seen.seenVersion) : null;
  return {
    kind: "refused",
    sentence: answer.sentence,
    field: refusedAt(seen.name, answer.reason),
    meanwhile: meanwhile === null || meanwhile.changes.length === 0 ? null : meanwhile,
    typed: seen.typed,
  };
}

/** What was solved from a distance is a decision too: nothing was sent, and a fault was found or not. */
function decisionIn({ name, reason, seenVersion, stated }: MoveForm): { decision?: Decision } {
  if (name !== "solve-remotely" || stated.confirmedFault === undefined) return {};
  return { decision: { remedy: "remote-fix", confirmedFault: stated.confirmedFault, reason, seenVersion } };
}
