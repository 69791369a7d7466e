import { type Exposure, exposureOf, type ReturnExposure, returnExposureOf } from "./exposure";
import { firstEventPerSerial, type UnitHistory } from "./first-event";
import { type ExcludedCell, type LifeCell, type LifeTable, type Line, MOST_SLACK_DAYS } from "./life-cell";

/** A pack by itself, with the group and stratum it is counted in. */
export interface GroupedHistory extends UnitHistory {
  readonly group: string;
  readonly stratum: string;
  readonly dispatched: boolean;
  readonly daysSinceDispatch: number | null;
  /** The fault that was found where the failure is confirmed. */
  readonly faultFound: string | null;
}

/**
 * Counts packs one by one into the cells that a database counts in one query: the same rules, each of them
 * `exposureOf`'s, so that either can be checked against the other. A serial that comes twice counts once.
 */
export function tallyLives(histories: Iterable<GroupedHistory>): LifeTable {
  const cells = new Map<string, LifeCell>();
  const excluded = new Map<string, ExcludedCell>();
  const { kept, repeated } = firstEventPerSerial(histories);
  for (const pack of kept) {
    const exposure = exposureOf(pack);
    if (exposure.kind === "excluded") add(excluded, excludedCell(pack, exposure.reason));
    else add(cells, cellOf(pack, "confirmed", exposure, confirmedDetail(pack, exposure)));
    const anyReturn = returnExposureOf(pack);
    if (anyReturn.kind === "exposure") add(cells, cellOf(pack, "any-return", anyReturn, returnDetail(pack, anyReturn)));
  }
  for (const pack of repeated) add(excluded, excludedCell(pack, "serial-twice"));
  return { cells: [...cells.values()], excluded: [...excluded.values()] };
}

type Counted<E> = Extract<E, { kind: "exposure" }>;

function cellOf(
  { group, stratum, dispatched }: GroupedHistory,
  line: Line,
  { entryDays, exitDays, slackDays, status }: Counted<Exposure> | Counted<ReturnExposure>,
  detail: string | null,
): LifeCell {
  const slack = Math.min(slackDays, MOST_SLACK_DAYS);
  return { line, group, stratum, dispatched, entryDays, exitDays, slackDays: slack, status, detail, packs: 1 };
}

/** A failure told after the end of cover is goodwill: it is named, and not counted. */
function confirmedDetail(
  { failure, dataDate, faultFound }: GroupedHistory,
  { status }: Counted<Exposure>,
): string | null {
  if (status === "failed") return faultFound;
  const late = status === "cover-ended" && failure !== null && failure.confirmed && failure.toldOn <= dataDate;
  return late ? FAILED_AFTER_COVER : null;
}

/** Detail of a life that ended with the cover, of a pack that was found faulty later. */
export const FAILED_AFTER_COVER = "failed-after-cover";

function returnDetail({ firstReturn }: GroupedHistory, { status }: Counted<ReturnExposure>): string | null {
  return status === "returned" ? (firstReturn?.outcome ?? null) : null;
}

function excludedCell(
  { group, stratum, dispatched, daysSinceDispatch }: GroupedHistory,
  reason: ExcludedCell["reason"],
): ExcludedCell {
  return {
    group,
    stratum,
    dispatched,
    reason,
    daysSinceDispatch: reason === "unsold" ? daysSinceDispatch : null,
    packs: 1,
  };
}

function add<Cell extends { readonly packs: number }>(cells: Map<string, Cell>, cell: Cell): void {
  const key = JSON.stringify({ ...cell, packs: 0 });
  const known = cells.get(key);
  cells.set(key, known === undefined ? cell : { ...known, packs: known.packs + cell.packs });
}
