import { type CalendarDate, compareDates } from "./calendar";

/** A return told before this one, of this pack or of one it replaced. */
export interface EarlierReturn {
  readonly toldOn: CalendarDate;
  readonly symptom: string;
  /** What was done; null while undecided. */
  readonly remedy: string | null;
  /** The pack was handed back after it, or put right where it was; missing in answers kept from before this was asked. */
  readonly isCarriedOut?: boolean | undefined;
}

export interface Repeat {
  /** Repairs and replacements tried before this complaint, over the whole chain. */
  readonly attempts: number;
  readonly isSameSymptom: boolean;
  readonly sentence: string;
}

/** Directive (EU) 2019/771, Art. 13(4), and Consumer Rights Act 2015, s. 24(5), both from memory. */
export const REFUND_MAY_BE_DUE = "a refund may be due";

/** What is put right at the dealer's is a repair. */
const ATTEMPTS = ["repair", "replace", "remote-fix"];

/**
 * Whether a repair or a replacement was tried before on this pack or one it replaced; what was decided and never made was not. After a failed one the consumer
 * may move on to a lower price or the money back: Directive (EU) 2019/771, Art. 13(4) (a lack of conformity that appears
 * despite an attempt; from memory: verify), Consumer Rights Act 2015, s. 24(5) (after one attempt; from memory: verify).
 * It is a prompt to ask, never an answer.
 */
export function repeatReturn(
  complaint: { readonly toldOn: CalendarDate; readonly symptom?: string | undefined },
  earlier: readonly EarlierReturn[],
): Repeat | null {
  const tried = earlier.filter(
    ({ toldOn, remedy, isCarriedOut }) =>
      compareDates(toldOn, complaint.toldOn) <= 0 &&
      remedy !== null &&
      ATTEMPTS.includes(remedy) &&
      isCarriedOut !== false,
  );
  if (tried.length === 0) return null;
  const isSameSymptom = tried.some(({ symptom }) => symptom === complaint.symptom);
  const count =
    tried.length === 1 ? "one earlier repair or replacement" : `${tried.length} earlier repairs or replacements`;
  const again = isSameSymptom ? " The same symptom was told before." : "";
  const which = tried.length === 1 ? "the second attempt" : `attempt ${tried.length + 1}`;
  return {
    attempts: tried.length,
    isSameSymptom,
    sentence: `There was ${count} at this customer, so this would be ${which}: ${REFUND_MAY_BE_DUE}; ask.${again}`,
  };
}
