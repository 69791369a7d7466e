import { z } from "zod";
import type { Actor, Role } from "@/lib/access/actor";
import { proposalSentences } from "@/lib/access/two-people";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { faults, remedies } from "@/lib/diagnosis/finding";
import { dateField, optionalChoice } from "@/lib/returns/form-fields";
import { storableText } from "@/lib/returns/storable-text";

/** What of a pack an issue may be bound to, as somebody types it; read against what is on record by the data layer. */
export const issuePacksSchema = z.object({
  revision: z.string().trim().max(40, "At most 40 characters.").default(""),
  lot: z.string().trim().max(80, "At most 80 characters.").default(""),
  set: z.string().trim().max(10, "At most 10 characters.").default(""),
});
export type IssuePacks = z.output<typeof issuePacksSchema>;

export type PacksRefusal =
  | "nothing-named"
  | "no-such-revision"
  | "no-such-lot"
  | "lot-of-two-kinds"
  | "no-such-set"
  | "set-not-frozen"
  | "set-beside-others"
  | "no-pack";

/** Which question a refused answer belongs to, and what is wrong with it. */
export const packsRefusals: Readonly<Record<PacksRefusal, { field: keyof IssuePacks; sentence: string }>> = {
  "nothing-named": { field: "revision", sentence: "Name a revision, a lot, both, or a set of packs." },
  "no-such-revision": { field: "revision", sentence: "No revision of this code is on record." },
  "no-such-lot": { field: "lot", sentence: "No lot of this code is on record." },
  "lot-of-two-kinds": {
    field: "lot",
    sentence: "Lots of more than one kind bear this code. Write the kind before it: cell, joining, potting or board.",
  },
  "no-such-set": { field: "set", sentence: "There is no set of this number." },
  "set-not-frozen": { field: "set", sentence: "This set is not frozen, so what it names may still be dropped." },
  "set-beside-others": { field: "set", sentence: "A set names its packs itself: leave revision and lot empty." },
  "no-pack": { field: "revision", sentence: "No pack is like that today, so there is nothing to act on." },
};

const yesOrNo = (question: string) => z.enum(["yes", "no"], question).transform((answer) => answer === "yes");

/** An issue as somebody proposes it; one object for the form and the server. */
export const openIssueSchema = issuePacksSchema.extend({
  title: storableText({
    least: 5,
    most: 120,
    tooShort: "Say what is wrong with these packs, in one line: the dealer reads it.",
    tooLong: "At most 120 characters: the rest belongs into what is to be done.",
  }),
  action: storableText({
    least: 10,
    most: 1000,
    tooShort: "Say what the dealer and the bench are to do, in a sentence.",
    tooLong: "At most 1000 characters.",
  }),
  coversWhateverTheDate: yesOrNo("Choose whether these packs are covered whatever the date."),
  stopShip: yesOrNo("Choose whether packs like these may still go out."),
  fault: optionalChoice(faults),
  otherFault: optionalChoice(faults),
  suggestedRemedy: optionalChoice(remedies),
  validFrom: dateField("Give the first day."),
  why: whyProposed,
  /** The issue whose place it takes, by its id. */
  insteadOf: z.union([z.uuid("There is no such issue."), z.literal("")]).default(""),
});
export type OpenIssue = z.output<typeof openIssueSchema>;

export const closeIssueSchema = z.object({
  issue: z.uuid("There is no such issue."),
  validFrom: dateField("Give the first day without it."),
  why: whyProposed,
});
export type CloseIssue = z.output<typeof closeIssueSchema>;

export type IssueRefusal =
  | "not-allowed"
  | "not-found"
  | "settled"
  | "same-person"
  | "day-past"
  | "no-such-issue"
  | "closed-already"
  | "ends-already"
  | "before-it-begins"
  | "manager-missing";

const family = proposalSentences({
  thing: "proposal",
  whose: "the service lead, managers and the safety officer",
  another: "a manager or the safety officer other than you",
  notPast: "what was answered before it keeps the days it was answered by.",
});

export const issueRefusals: Readonly<Record<IssueRefusal, string>> = {
  "not-allowed":
    "The service lead proposes; a manager or the safety officer proposes too, and approves what somebody else proposed.",
  "not-found": family["not-found"],
  settled: family.settled,
  "same-person": family["same-person"],
  "day-past": family["day-past"],
  "no-such-issue": "There is no such issue.",
  "closed-already": "This issue is closed already.",
  "ends-already": "Somebody proposed already that this issue is closed. Approve or drop that first.",
  "before-it-begins": "It ends on this day before it has begun.",
  "manager-missing": "It changes which packs are covered whatever the date, so one of the two people is a manager.",
};

/** The question of the form that a refusal is about; "form" where it is about none. */
export function fieldOfRefusal(refusal: IssueRefusal): "validFrom" | "form" {
  return refusal === "day-past" || refusal === "before-it-begins" ? "validFrom" : "form";
}

/**
 * Whether two people may promise cover whatever the date, or take it back: what the maker promises is the managers' (as for the
 * rules of the guarantee), what hurts somebody is the safety officer's, so one manager at least is among the two. House rule.
 */
export function isManagerMissing(
  changesCover: boolean,
  proposedByRole: string,
  approver: Pick<Actor, "role">,
): boolean {
  const manager: Role = "manager";
  return changesCover && proposedByRole !== manager && approver.role !== manager;
}
