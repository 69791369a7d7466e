import { type Guard, unless } from "./case-guards";
import { givesBeside } from "./given-before";

// Conditions of a proposal that ask what the customer was given under the same complaint before.

/** A refund is the whole of its complaint: what was paid before can be taken from it in its own currency alone. */
export const refundFitsWhatWasPaid: Guard = ({ standing: { known }, decision }) =>
  unless(
    decision?.remedy !== "refund" || known.refundPaidIn === null || decision.refundCurrency === known.refundPaidIn,
    "refund-in-other-currency",
  );

/** More beside what the customer was given already takes a word on what of it comes back; "nothing" is one, with its reason. */
export const givenBeforeIsSaid: Guard = ({ standing: { known }, decision }) => {
  const given = { moneyIn: known.refundPaidIn, unitSerial: known.unitGiven };
  const isSaid = decision === null || !givesBeside(decision.remedy, given) || decision.comesBack !== undefined;
  return unless(isSaid, "given-before");
};
