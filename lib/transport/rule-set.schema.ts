import { z } from "zod";
import { dateText } from "@/lib/warranty/date-text";
import { packageMarkSchema } from "./package-mark";
import { sourcedTextSchema } from "./sourced-text";

const texts = z.array(sourcedTextSchema).min(1);

/** One way to pack a pack of some class. */
const packingSchema = z.object({
  /** As the regulation names it, e.g. "P908". */
  instruction: z.string().min(2),
  /** The instruction for one large battery in a large packaging; null where there is none. */
  largeInstruction: z.string().nullable(),
  level: sourcedTextSchema,
  contents: texts,
  marks: z.array(packageMarkSchema),
  documentEntries: z.array(sourcedTextSchema),
});
export type Packing = z.output<typeof packingSchema>;

const trackSchema = z.object({
  name: z.string().min(2),
  /** Country the pack leaves from, ISO 3166-1 alpha-2. */
  countries: z.array(z.string().regex(/^[A-Z]{2}$/)).min(1),
  damaged: packingSchema,
  notDamaged: packingSchema,
  /** What a specialist packs by; nothing here is ever printed as a label. */
  critical: texts,
  remarks: z.array(sourcedTextSchema),
});
export type Track = z.output<typeof trackSchema>;

const scriptSchema = z.object({ headline: z.string().min(3), does: texts, donts: texts });

/**
 * The transport rules of one version. They belong to the maker's dangerous-goods safety adviser: a version nobody has
 * confirmed may be used for damaged packs only, never to call a pack "not damaged".
 */
export const transportRulesSchema = z.object({
  version: z.string().min(1).max(40),
  validFrom: dateText("validFrom"),
  owner: z.string().min(3),
  definition: texts,
  tracks: z.array(trackSchema).min(1),
  air: texts,
  /** A battery above this net mass goes alone into its outer packaging. */
  aloneAboveKg: z.object({ kg: z.number().positive(), rule: sourcedTextSchema }),
  /** Days an authorisation to send holds; the maker's setting. */
  authorisationDays: z.int().min(1).max(365),
  checklist: texts,
  /** What each class means for whoever has the pack, in a sentence. */
  meanings: z.object({
    "do-not-ship": sourcedTextSchema,
    damaged: sourcedTextSchema,
    "not-damaged": sourcedTextSchema,
  }),
  /** What the dealer is told to do and to leave undone, by how grave the danger answers are. */
  dealerScripts: z.object({ "keep-away": scriptSchema, "set-apart": scriptSchema, none: scriptSchema }),
});
export type TransportRules = z.output<typeof transportRulesSchema>;
