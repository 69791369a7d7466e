import type { HistoryCheck } from "@/lib/returns/verify-history";

/** Whether the rows above are the rows that were written: each carries the hash of the one before. */
export function HistoryCheckLine({ check }: { check: HistoryCheck | null }) {
  if (check === null) return null;
  if (check.kind === "broken") {
    return (
      <p role="alert" className="font-semibold text-danger">
        The history is not whole: row {check.sequence}. {check.sentence}
      </p>
    );
  }
  return (
    <p className="text-sm text-soft">
      Checked: {check.rows} {check.rows === 1 ? "row" : "rows"}, none changed or missing. Last mark{" "}
      <code>{check.lastHash.slice(0, 12)}</code>.
    </p>
  );
}
