import { z } from "zod";
import { storableText } from "@/lib/returns/storable-text";
import { knowledgeKinds } from "./first-knowledge";
import { reportingDecisions } from "./incident-decision";
import { incidentFlags } from "./incident-flags";
import { namedPatterns } from "./pattern-flags";

const text = z.string().max(4000);

/** What an entry holds, by its kind. Stored as JSON: a change here is a migration of what lies there. */
export const incidentEntrySchema = z.discriminatedUnion("kind", [
  z.object({ kind: z.literal("knowledge"), how: z.enum(knowledgeKinds), knownAt: z.iso.datetime(), note: text }),
  z.object({ kind: z.literal("flags"), flags: z.array(z.enum(incidentFlags)) }),
  z.object({ kind: z.literal("place"), country: z.string().regex(/^[A-Z]{2}$/) }),
  z.object({ kind: z.literal("checklist"), line: z.string().max(40) }),
  z.object({ kind: z.literal("pattern"), pattern: z.enum(namedPatterns), note: text }),
  z.object({ kind: z.literal("determination"), determinedAt: z.iso.datetime(), note: text }),
  z.object({
    kind: z.literal("decision"),
    clockId: z.string().max(60),
    decision: z.enum(reportingDecisions),
    until: z.string().max(10).nullable(),
    reason: text,
    lawyerReference: text,
  }),
  /** The pack that an incident was opened without. */
  z.object({ kind: z.literal("pack"), serial: z.string().max(40) }),
  z.object({ kind: z.literal("closed"), reason: text }),
  /** A named person has taken notice; the calls end. */
  z.object({ kind: z.literal("acknowledged") }),
]);
export type IncidentEntryContent = z.output<typeof incidentEntrySchema>;

/** As a field for day and time sends it: to the minute and without an offset. */
const toTheMinute = /^(\d{4}-\d{2}-\d{2}T\d{2}:\d{2})(Z|[+-]\d{2}:\d{2})?$/;

/** Something more that became known: by whom, when this house had it, and in what words. */
export const furtherKnowledgeSchema = z.object({
  how: z.enum(knowledgeKinds, "Choose how it became known."),
  /** A time without an offset is UTC, as its field says; it would be read in the zone of the server otherwise. */
  knownAt: z
    .preprocess(
      (typed) =>
        typeof typed === "string"
          ? typed.replace(toTheMinute, (_, minute: string, offset = "Z") => `${minute}:00${offset}`)
          : typed,
      z.iso.datetime({ offset: true, error: "Give day and time at which anyone here first had it." }),
    )
    .transform((text) => new Date(text)),
  note: storableText({
    least: 5,
    most: 2000,
    tooShort: "Write what was told or found, in a sentence.",
    tooLong: "This is longer than 2000 characters.",
  }),
  flags: z.array(z.enum(incidentFlags)).max(incidentFlags.length).default([]),
  country: z
    .string()
    .trim()
    .toUpperCase()
    .regex(/^([A-Z]{2})?$/, "Two letters, for example DE.")
    .default(""),
});
export type FurtherKnowledge = z.output<typeof furtherKnowledgeSchema>;
