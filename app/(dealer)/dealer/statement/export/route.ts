import { csvDownload, noDownload } from "@/app/_components/csv-download";
import { currentActor } from "@/lib/auth/session";
import { readOwnLines } from "@/lib/data/settlement";
import { lineStateWords } from "@/lib/settlement/line-moves";
import { statementCsv } from "@/lib/settlement/statement-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The dealer's own lines as a file, with the data date in its name and in every row. */
export async function GET(): Promise<Response> {
  const actor = await currentActor();
  const lines = actor === null ? null : await readOwnLines(actor);
  if (lines === null) return noDownload();
  const asOf = civilDateAt(new Date(), "UTC");
  const rows = lines.map((line) => ({
    ...line,
    state: lineStateWords[line.state],
    claimedOn: civilDateAt(line.claimedAt, "UTC"),
    paidOn: line.paidAt === null ? null : civilDateAt(line.paidAt, "UTC"),
  }));
  return csvDownload(`statement-${asOf}`, statementCsv(asOf, rows));
}
