import Link from "next/link";
import { type Column, DataTable } from "@/app/_components/data-table";
import { LocalTime } from "@/app/_components/local-time";
import type { DoubtfulResult } from "@/lib/data/bench-tests/doubtful-results";
import { isOpenStatus, returnStatusWords } from "@/lib/returns/return-status";

const columns: Column<DoubtfulResult>[] = [
  {
    head: "Return",
    cell: ({ reference, purpose }) => (
      <Link href={purpose === "retest" ? `/bench/${reference}/work` : `/bench/${reference}/tests`}>{reference}</Link>
    ),
  },
  { head: "Stands at", cell: ({ status }) => returnStatusWords(status) },
  { head: "Test", cell: ({ testTitle, purpose }) => `${testTitle}${purpose === "retest" ? ", after work" : ""}` },
  {
    head: "Measured",
    cell: ({ instrumentCode, byName, at }) => (
      <>
        with {instrumentCode}, {byName}, <LocalTime at={at} />
      </>
    ),
  },
  {
    head: "To be done",
    cell: ({ isMadeAgain, status }) =>
      isMadeAgain ? (
        "Nothing: it was measured again since"
      ) : (
        <strong>
          {isOpenStatus(status)
            ? "Measure it again"
            : "Say whether the outcome rests on it; if so, have the pack back and open the return again"}
        </strong>
      ),
  },
];

/** What was measured with an instrument that was found to be off afterwards, so that every return of it is looked at. */
export function DoubtfulPart({ results }: { results: readonly DoubtfulResult[] }) {
  if (results.length === 0) return null;
  const open = results.filter(({ isMadeAgain }) => !isMadeAgain).length;
  const returns = new Set(results.map(({ reference }) => reference)).size;
  return (
    <section aria-labelledby="in-doubt-title" className="space-y-3">
      <h2 id="in-doubt-title">Results in doubt</h2>
      <p>
        An instrument was found to be off, or could not be checked. What was measured with it since its last good
        calibration: {results.length} {results.length === 1 ? "result" : "results"} on {returns}{" "}
        {returns === 1 ? "return" : "returns"}, {open} not measured again. Each verdict stays as it was given; nothing
        is proposed and no pack released on one.
      </p>
      <DataTable
        entriesWhenNarrow
        caption="Results in doubt, newest first"
        columns={columns}
        rows={results}
        rowKey={({ id }) => id}
        whenEmpty="None."
      />
    </section>
  );
}
