import type { DealerReturnRow } from "@/lib/data/returns/returns";
import { returnStatusWords, undecidedStatuses } from "@/lib/returns/return-status";

/** A return of the workshop as its card says it. */
export interface ReturnWords {
  readonly reference: string;
  readonly lodgedAt: Date;
  readonly modelName: string;
  readonly serialShown: string;
  readonly isDanger: boolean;
  readonly status: string;
  readonly turn: string;
  readonly next: string;
}

export function returnWords({ danger, status, ...row }: DealerReturnRow): ReturnWords {
  const { reference, lodgedAt, modelName, serialShown, turn, next } = row;
  // Once decided, what is to be done stands in the decision; tape on old cards would wear the sign out.
  const isDanger = danger && undecidedStatuses.some((undecided) => undecided === status);
  return { reference, lodgedAt, modelName, serialShown, isDanger, status: returnStatusWords(status), turn, next };
}
