import { z } from "zod";
import { optionalDateField } from "@/lib/returns/form-fields";
import { storableText } from "@/lib/returns/storable-text";
import { whereSound } from "@/lib/returns/where-sound";

/** What a named person decided about one clock. The words say what was done, never what the law asks. */
export const reportingDecisions = ["reported", "not-reported", "investigating"] as const;
export type ReportingDecision = (typeof reportingDecisions)[number];

export const reportingDecisionLabels: Readonly<Record<ReportingDecision, string>> = {
  reported: "Reported to the authority",
  "not-reported": "Decided not to report, on advice",
  investigating: "More investigation, until a day",
};

/** One decision on one clock, one object for the form and the server. */
export const incidentDecisionSchema = z
  .object({
    clockId: z.string("Choose the clock this is about.").min(1, "Choose the clock this is about.").max(60),
    /** Number of the last entry on the page the decision was made on: nobody decides on what they have not seen. */
    seenEntries: z.coerce.number().int().min(1),
    decision: z.enum(reportingDecisions, "Choose what was decided."),
    until: optionalDateField,
    reason: storableText({
      least: 20,
      most: 4000,
      tooShort: "Write the reason in whole sentences: an authority or a court may read only this.",
      tooLong: "This is longer than 4000 characters. Keep to the reason.",
    }),
    /** The lawyer, and the file or message in which the advice was given. */
    lawyerReference: storableText({
      least: 5,
      most: 300,
      tooShort: "Name the lawyer, and the letter or file with the advice.",
      tooLong: "This is longer than 300 characters. Name the lawyer and the letter.",
    }),
  })
  .refine((form) => (form.decision === "investigating") === (form.until !== undefined), {
    path: ["until"],
    when: whereSound("decision", "until"),
    message: "An investigation has a day on which it ends; the other decisions have none.",
  });
export type IncidentDecision = z.output<typeof incidentDecisionSchema>;

export const closingSchema = z.object({
  reason: storableText({
    least: 20,
    most: 4000,
    tooShort: "Write in whole sentences what was found, what was done, and why the pack may be let go.",
    tooLong: "This is longer than 4000 characters.",
  }),
});

/** Whether an incident may be closed: every clock that may be running has a decision that is no longer pending. */
export function openClocks(clockIds: readonly string[], latest: ReadonlyMap<string, ReportingDecision>): string[] {
  return clockIds.filter((id) => {
    const decision = latest.get(id);
    return decision === undefined || decision === "investigating";
  });
}
