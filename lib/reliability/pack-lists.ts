import Papa from "papaparse";
import { COUNTING_RULES_VERSION } from "./rule-version";

/** Lists of packs that stand behind the numbers of a group. */
export const packLists = [
  "failures",
  "undecided",
  "returns",
  "unclassified",
  "running",
  "not-sold",
  "after-cover",
  "left-out",
] as const;
export type PackList = (typeof packLists)[number];

export const packListWords: Readonly<Record<PackList, string>> = {
  failures: "confirmed failures within cover",
  undecided: "returns still undecided",
  returns: "packs that came back within cover, whatever was found",
  unclassified: "first returns still undecided or with the fault unknown",
  running: "packs in use, watched and not failed",
  "not-sold": "packs not known to be sold",
  "after-cover": "packs found faulty after the end of cover",
  "left-out": "packs left out because their dates contradict themselves or nothing was watched",
};

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

/**
 * The list as CSV, the data date and the version of the counting rules in every row. Text that a spreadsheet would take
 * for a formula is made plain (OWASP, "CSV Injection").
 */
export function packListCsv(
  list: { readonly dataDate: string; readonly by: string; readonly group: string; readonly list: PackList },
  packs: readonly ListedPack[],
): string {
  const fields = ["data date", "counting rules", "grouped by", "group", "list", "serial", "model", "entry age in days"];
  const more = ["exit age in days", "status", "detail", "return"];
  return Papa.unparse(
    {
      fields: [...fields, ...more],
      data: packs.map((pack) => [
        list.dataDate,
        COUNTING_RULES_VERSION,
        list.by,
        list.group,
        packListWords[list.list],
        pack.serial,
        pack.stratum,
        pack.entryDays ?? "",
        pack.exitDays ?? "",
        pack.status,
        pack.detail,
        pack.reference ?? "",
      ]),
    },
    { escapeFormulae: true, newline: "\r\n" },
  );
}
