import "server-only";
import { z } from "zod";
import type { IssueEntry, KnownIssue } from "@/prisma/generated/client";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";

const dated = z.object({ validFrom: z.string() });
/** What an approval opened, as its entry keeps it. */
const openedSchema = dated.extend({
  title: z.string(),
  action: z.string(),
  revisionId: z.string().nullable(),
  lotId: z.string().nullable(),
  setId: z.string().nullable(),
  stopShip: z.boolean(),
  coversWhateverTheDate: z.boolean(),
});

type Entry = Pick<IssueEntry, "kind" | "content">;

/** What the row of a known issue says otherwise than what happened to it; null where nothing does. */
export function whyIssueContradicts(issue: KnownIssue | null, entries: readonly Entry[]): string | null {
  if (entries.length === 0) return "Its entries are gone: something was proposed of it.";
  const opened = entries.find(({ kind }) => kind === "opened");
  if (opened !== undefined) {
    if (issue === null) return "Two people opened it, and it is gone.";
    const { validFrom, ...content } = openedSchema.parse(opened.content);
    const isAsOpened = openedSchema.keyof().options.every((key) => key === "validFrom" || issue[key] === content[key]);
    if (!isAsOpened || fromDateColumn(issue.openedOn) !== validFrom)
      return "It says otherwise than what two people opened.";
  }
  if (issue === null) return null;
  const closed = entries.findLast(({ kind }) => kind === "closed");
  const closedOn = closed === undefined ? null : dated.parse(closed.content).validFrom;
  return closedOn === fromOptionalDateColumn(issue.closedOn) ? null : "It ends on another day than two people agreed.";
}
