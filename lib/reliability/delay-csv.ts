import { csvTable } from "@/lib/settlement/csv-table";
import { compareByWords } from "./compare-by";
import type { GroupLags } from "./group-lags";
import type { LagEstimate } from "./reporting-lag";
import { COUNTING_RULES_VERSION } from "./rule-version";

/** How long it takes until failures are confirmed, as one line was corrected by it. */
export interface DelayTaken {
  readonly of: "its own" | "all together" | "each pack by its dealer; here all together" | "none";
  readonly medianDays: number | null;
  readonly mostDays: number | null;
  /** Confirmed failures it rests on. */
  readonly returns: number;
}

/**
 * What the numbers of a group were corrected by: its own delay where it is given one, else that of all; where dealers differ and the
 * groups are no places (`delays` null), the delay of each pack's dealer.
 */
export function delayTaken(
  group: string,
  ofAll: LagEstimate,
  delays: GroupLags | null,
  dealers: GroupLags | null = null,
): DelayTaken {
  const own = delays?.own.get(group);
  if (own !== undefined) return { ...own, of: "its own" };
  if (ofAll.kind === "no-lag") return { of: "none", medianDays: null, mostDays: null, returns: ofAll.returns };
  const byDealer = delays === null && dealers !== null && dealers.own.size > 0;
  return { ...ofAll, of: byDealer ? "each pack by its dealer; here all together" : "all together" };
}

export const delayFieldNames = [
  "delay until confirmed that is allowed for",
  "half confirmed within days",
  "95 of 100 confirmed within days",
  "confirmed failures that delay rests on",
];

/** The delay as fields of a table file; no days where nothing is allowed for. */
export function delayFields({ of, medianDays, mostDays, returns }: DelayTaken): (string | number)[] {
  return [of, medianDays ?? "", mostDays ?? "", returns];
}

/** The delays as CSV: that of all, and each group with one of its own or without; data date and counting rules in every row. */
export function delayCsv(
  dataDate: string,
  ofAll: LagEstimate,
  delays: GroupLags | null,
  dealers: GroupLags | null = null,
): string {
  const about = [dataDate, COUNTING_RULES_VERSION, delays === null ? "" : compareByWords[delays.by].one];
  const groups = delays === null ? [] : [...delays.own.keys(), ...delays.withoutOwn];
  const data = groups.map((group) => {
    const followedDays = delays?.own.get(group)?.followedDays ?? "";
    return [...about, group, ...delayFields(delayTaken(group, ofAll, delays)), followedDays];
  });
  const all = [...about, "all together", ...delayFields(delayTaken("", ofAll, delays, dealers)), ""];
  const names = ["data date", "counting rules", "grouped by", "group", ...delayFieldNames];
  return csvTable([...names, "its own up to days, beyond that of all"], [all, ...data]);
}
