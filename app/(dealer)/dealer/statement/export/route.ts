import { csvDownload, noDownload } from "@/app/_components/csv-download";
import { currentActor } from "@/lib/auth/session";
import { readOwnMoney } from "@/lib/data/settlement";
import { lineStateWords } from "@/lib/settlement/line-moves";
import { statementCsv } from "@/lib/settlement/statement-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The dealer's own lines as a file, with the data date in its name and in every row. */
export async function GET(): Promise<Response> {
  const actor = await currentActor();
  const page = actor === null ? null : await readOwnMoney(actor);
  if (page === null) return noDownload();
  const asOf = civilDateAt(new Date(), "UTC");
  const rows = page.lines.map((line) => ({
    ...line,
    state: lineStateWords[line.state],
    claimedOn: civilDateAt(line.claimedAt, "UTC"),
    paidOn: line.paidAt === null ? null : civilDateAt(line.paidAt, "UTC"),
  }));
  return csvDownload(`statement-${asOf}`, statementCsv(asOf, rows));
}
