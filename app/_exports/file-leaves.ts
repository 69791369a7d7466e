import { csvDownload } from "@/app/_components/csv-download";
import type { Actor } from "@/lib/access/actor";
import { recordExport } from "@/lib/data/accounts/exports-taken";

/** How the rows of a file were chosen, as its address says. */
export type Choice = Readonly<Record<string, string>>;

export function choiceOf(request: Request): Choice {
  return Object.fromEntries(new URL(request.url).searchParams);
}

/** A table that leaves the house as a file. The entry of who took it is written first: without it no file leaves. */
export async function fileLeaves(actor: Actor, choice: Choice, name: string, text: string): Promise<Response> {
  await recordExport(actor, name, choice);
  return csvDownload(name, text);
}
