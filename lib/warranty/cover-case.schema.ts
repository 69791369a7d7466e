import { z } from "zod";
import { mayBeMissing } from "./cover-facts.schema";
import { dateText } from "./date-text";
import { isTimeZone } from "./place-of-sale";
import { policyTerms } from "./policy.schema";

/** Only the day is needed; with the serials the chain itself is checked. */
const replacementSchema = z.object(
  {
    deliveredOn: dateText("deliveredOn"),
    oldSerial: mayBeMissing(z.string("oldSerial: a text.").max(60, "oldSerial: too long.")),
    newSerial: mayBeMissing(z.string("newSerial: a text.").max(60, "newSerial: too long.")),
    newInServiceSince: mayBeMissing(dateText("newInServiceSince")),
  },
  "replacements: each with deliveredOn.",
);

const absenceSchema = z
  .object(
    {
      handedOverOn: dateText("handedOverOn"),
      backOn: mayBeMissing(dateText("backOn")).transform((backOn) => backOn ?? null),
    },
    "absences: each with handedOverOn.",
  )
  .refine(({ handedOverOn, backOn }) => backOn === null || handedOverOn <= backOn, "backOn: not before handedOverOn.");

/** One case of the command line, read leniently: everything after `months` may be missing. */
export const coverCaseSchema = z
  .object(
    {
      /** Delivery to the first customer; taken as given. */
      soldOn: mayBeMissing(dateText("soldOn")),
      /** IANA zone of the place of sale; needed to tell the day of an instant. */
      zone: mayBeMissing(
        z
          .string("zone: a name such as Europe/Berlin.")
          .refine(isTimeZone, "zone: no zone of the IANA time-zone database."),
      ),
      toldOn: mayBeMissing(dateText("toldOn")),
      toldAt: mayBeMissing(
        z
          .string("toldAt: an instant with offset, such as 2026-02-28T22:30:00Z.")
          // Seconds may be left out, as people do.
          .transform((text) => text.replace(/T([0-9]{2}:[0-9]{2})(Z|[+-])/, "T$1:00$2"))
          .pipe(
            z.iso.datetime({ offset: true, error: "toldAt: an instant with offset, such as 2026-02-28T22:30:00Z." }),
          )
          // A zone moves the day by one at most, so these years stay within the calendar in every zone.
          .refine((text) => /^(19[1-9]|20|21[0-8])/.test(text), "toldAt: a year from 1910 to 2189.")
          .transform((text) => new Date(text)),
      ),
      months: policyTerms.months,
      graceDays: mayBeMissing(policyTerms.graceDays),
      leapDay: mayBeMissing(policyTerms.leapDay),
      dispatchedOn: mayBeMissing(dateText("dispatchedOn")),
      stockAgeCapMonths: mayBeMissing(policyTerms.stockAgeCapMonths),
      replacements: mayBeMissing(z.array(replacementSchema, "replacements: a list.")),
      replacementRule: mayBeMissing(policyTerms.replacementRule),
      minimumDays: mayBeMissing(policyTerms.minimumDays),
      minimumMonths: mayBeMissing(policyTerms.minimumMonths),
      weekendEnd: mayBeMissing(policyTerms.weekendEnd),
      clockStop: mayBeMissing(policyTerms.clockStop),
      absences: mayBeMissing(z.array(absenceSchema, "absences: a list.")),
    },
    "A case is an object with months, a day told, and a day sold or dispatched.",
  )
  .refine(
    (given) => given.toldOn !== undefined || given.toldAt !== undefined,
    "toldOn or toldAt: one of them is needed.",
  )
  .refine((given) => given.toldAt === undefined || given.zone !== undefined, "zone: needed to tell the day of toldAt.");

export type CoverCase = z.output<typeof coverCaseSchema>;
