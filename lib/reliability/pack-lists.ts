import { z } from "zod";
import { sayFault } from "@/lib/diagnosis/fault-words";
import { csvTable } from "@/lib/settlement/csv-table";
import { isCalendarDate } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import { groupNameSchema } from "./compare-by";
import { exclusionReasons, exclusionWords } from "./exclusion-words";
import { grouped } from "./plain-share";
import { COUNTING_RULES_VERSION } from "./rule-version";

/** Lists of packs that stand behind the numbers of a group. */
export const packLists = [
  "built",
  "dispatched",
  "in-service",
  "failures",
  "undecided",
  "returns",
  "unclassified",
  "running",
  "back-in-use",
  "at-risk",
  "not-sold",
  "unknown-start",
  "after-cover",
  "left-out",
  "failed-since",
  "undecided-since",
  "first-returned-since",
  "failed-again-since",
  "each-return",
  "each-confirmed",
] as const;
export type PackList = (typeof packLists)[number];

const packListWords: Readonly<Record<PackList, string>> = {
  built: "packs built",
  dispatched: "packs dispatched",
  "in-service": "packs that came into use and were watched",
  failures: "confirmed failures within cover",
  undecided: "returns still undecided",
  returns: "packs that came back within cover, whatever was found",
  unclassified: "first returns still undecided or with the fault unknown",
  running: "packs in use, watched and not failed",
  "back-in-use": "packs put right after a confirmed failure and in use again under cover",
  "at-risk": "packs at risk",
  "not-sold": "packs not known to be sold",
  "unknown-start": "dispatched packs without a known day of sale",
  "after-cover": "packs found faulty after the end of cover",
  "left-out": "packs left out because their dates contradict themselves or nothing was watched",
  "failed-since":
    "confirmed failures within cover that reached us since, of packs sold and without an open return then",
  "undecided-since": "returns that reached us since and are not decided, of packs sold and without an open return then",
  "first-returned-since": "packs sold then that came back within cover for the first time since, whatever was found",
  "failed-again-since": "packs put right and in use again then that failed once more within cover since",
  "each-return": "returns within cover, each by itself",
  "each-confirmed": "returns confirmed as failures at any age, each by itself",
};

/** Lists with a line a return: a pack that came more than once stands in them as often. */
export function isOfReturns(list: PackList): boolean {
  return list === "each-return" || list === "each-confirmed";
}

/** No pack of this trade is older: a hundred years in days. */
const MOST_DAYS = 36_525;

/** What narrows a list to the packs of one number. */
export const packListFilterSchema = z.object({
  /** Only with this fault found. */
  fault: groupNameSchema.optional(),
  /** Only lives that ended by this age; of packs at risk, the age itself. */
  byDays: z.coerce.number().positive().max(MOST_DAYS).optional(),
  /** Only lives that ended at this age or later. */
  fromDays: z.coerce.number().positive().max(MOST_DAYS).optional(),
  /** Only of this model. */
  model: groupNameSchema.optional(),
  /** Only lives that ended so many days before the data date or earlier; of packs at risk, lives as they were then. */
  settledDays: z.coerce.number().int().positive().max(MOST_DAYS).optional(),
  /** Of returns confirmed as failures: only those confirmed less than so many days after they were told. */
  confirmedBeforeDays: z.coerce.number().int().positive().max(MOST_DAYS).optional(),
  /** Of packs left out: only for this reason. */
  reason: z.enum(exclusionReasons).optional(),
  /** Of what happened since a day, that day. */
  since: z.string().refine(isCalendarDate).optional(),
});
export type PackListFilter = z.output<typeof packListFilterSchema>;

/** "confirmed failures within cover: loose or broken sense wire, by 183 days in use". */
export function packListTitle(
  list: PackList,
  { fault, fromDays, byDays, model, reason, settledDays, confirmedBeforeDays, since }: PackListFilter,
): string {
  const narrowed = [
    ...(since === undefined ? [] : [`since ${sayDate(since)}`]),
    ...(fault === undefined ? [] : [sayFault(fault).toLowerCase()]),
    ...(reason === undefined ? [] : [exclusionWords[reason]]),
    ...(model === undefined ? [] : [`model ${model}`]),
    ...(settledDays === undefined
      ? []
      : [
          `${list === "at-risk" ? "as they were" : "told"} ${grouped(settledDays)} days ago${list === "at-risk" ? "" : " or earlier"}`,
        ]),
    ...(confirmedBeforeDays === undefined
      ? []
      : [`less than ${grouped(confirmedBeforeDays)} days after they were told`]),
    ...(fromDays === undefined ? [] : [`from ${grouped(Math.ceil(fromDays))} days in use`]),
    ...(byDays === undefined ? [] : [`${list === "at-risk" ? "at" : "by"} ${grouped(Math.floor(byDays))} days in use`]),
  ];
  return [packListWords[list], ...(narrowed.length === 0 ? [] : [narrowed.join(", ")])].join(": ");
}

export interface ListedPack {
  readonly serial: string;
  readonly serialShown: string;
  readonly stratum: string;
  /** Age at which it was first watched and at which its life ended; null for a pack without a life. */
  readonly entryDays: number | null;
  readonly exitDays: number | null;
  readonly status: string;
  /** The fault found, or what came of the first return; empty where neither applies. */
  readonly detail: string;
  readonly reference: string | null;
}

/** The list as CSV, the data date and the version of the counting rules in every row. */
export function packListCsv(
  list: { readonly dataDate: string; readonly by: string; readonly group: string; readonly title: string },
  packs: readonly ListedPack[],
): string {
  const fields = ["data date", "counting rules", "grouped by", "group", "list", "serial", "model", "entry age in days"];
  const more = ["exit age in days", "status", "detail", "return"];
  return csvTable(
    [...fields, ...more],
    packs.map((pack) => [
      list.dataDate,
      COUNTING_RULES_VERSION,
      list.by,
      list.group,
      list.title,
      pack.serial,
      pack.stratum,
      pack.entryDays ?? "",
      pack.exitDays ?? "",
      pack.status,
      pack.detail,
      pack.reference ?? "",
    ]),
  );
}
