import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { type Guard, unless } from "./case-guards";
import { givesBeside } from "./given-before";

// Conditions of a proposal that ask what the customer was given under the same complaint before.

/** A refund is the whole of its complaint: what was paid before can be taken from it in its own currency alone. */
export const refundFitsWhatWasPaid: Guard = ({ standing: { known }, decision }) =>
  unless(
    decision?.remedy !== "refund" || known.refundPaidIn === null || decision.refundCurrency === known.refundPaidIn,
    "refund-in-other-currency",
  );

/**
 * More beside what the customer was given already takes a word on what of it comes back, and by when; that nothing does is an
 * answer of its own, with its reason.
 */
export const givenBeforeIsSaid: Guard = ({ standing: { known, now, timeZone }, decision }) => {
  const given = { moneyIn: known.refundPaidIn, unitSerial: known.unitGiven };
  if (decision === null || !givesBeside(decision.remedy, given)) return null;
  const { comesBackWhat, comesBack, comesBackBy } = decision;
  if (comesBackWhat === undefined || comesBack === undefined) return "given-before";
  if (comesBackWhat === "nothing-comes-back") return null;
  return unless((comesBackBy ?? "") >= civilDateAt(now, timeZone), "due-in-the-past");
};

/** The pack lent to the customer is back. */
export const loanIsBack: Guard = ({ standing }) => unless(standing.known.loanIsOut !== true, "loan-out");

/** The pack sent in place of the returned one was handed over, is back, or is recorded as missing. */
export const unitIsBack: Guard = ({ standing }) => unless(!standing.known.unitIsOut, "unit-out");

/** What the customer is to give back is back, or somebody by name said that it is not awaited any more. */
export const nothingIsAwaitedBack: Guard = ({ standing: { known } }) =>
  unless(known.awaitedBackBy === null, "awaited-back");

/** Nothing of ours is out under the return: on one that is over nobody would look for it. */
export const nothingIsOut: Guard = (move) => nothingIsAwaitedBack(move) ?? loanIsBack(move) ?? unitIsBack(move);
