import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { type Guard, unless } from "./case-guards";
import { isNotOver } from "./return-settings.schema";
import { lastDayToObject } from "./told-periods";

// Conditions of an objection, and of the letter from which its time runs.

/** A time that has not begun is not over: nobody loses a right before they could know of it. */
export const objectionIsInTime: Guard = ({ standing: { past, told, now, timeZone } }) => {
  const lastDay = lastDayToObject(past, told, timeZone);
  return unless(past.decidedAt !== null && (lastDay === null || isNotOver(lastDay, now, timeZone)), "too-late");
};

export const letterIsNotGiven: Guard = ({ standing: { past } }) => unless(past.letterGivenOn === null, "letter-given");

export const letterDayIsGiven: Guard = ({ standing, stated: { letterGivenOn } }) => {
  if (letterGivenOn === undefined) return "letter-day-missing";
  const { decidedAt } = standing.past;
  const first = decidedAt === null ? letterGivenOn : civilDateAt(new Date(decidedAt), standing.timeZone);
  return unless(
    first <= letterGivenOn && letterGivenOn <= civilDateAt(standing.now, standing.timeZone),
    "letter-day-wrong",
  );
};
