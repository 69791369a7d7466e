import "server-only";
import { lowerFirst } from "@/lib/diagnosis/wording";
import { groupSerial, isSerial } from "@/lib/packs/serial";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { RevisionChange } from "./pack-facts";

/** A stored serial as people read it; one that no longer passes its check is shown as it is. */
export function shownSerial(stored: string): string {
  return isSerial(stored) ? groupSerial(stored) : stored;
}

const month = new Intl.DateTimeFormat("en-GB", { month: "long", year: "numeric", timeZone: "UTC" });

/** "Revision XX-C, built since March 2024. New in it: joining: laser; sensor leads." */
export function revisionInWords(code: string, introducedOn: CalendarDate, changes: readonly RevisionChange[]): string {
  const since = month.format(new Date(`${introducedOn}T00:00:00Z`));
  const what = changes.map((change) => lowerFirst(change.what)).join("; ");
  return `Revision ${code}, built since ${since}.${what === "" ? "" : ` New in it: ${what}.`}`;
}
