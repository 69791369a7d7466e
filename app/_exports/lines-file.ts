import { noDownload } from "@/app/_components/csv-download";
import type { Actor } from "@/lib/access/actor";
import { currentActor } from "@/lib/auth/session";
import type { LineView } from "@/lib/data/money/settlement";
import { lineStateWords } from "@/lib/settlement/line-moves";
import { statementCsv } from "@/lib/settlement/statement-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fileLeaves } from "./file-leaves";

/** Lines of money as a file, with the data date in its name and in every row: a dealer's own, or everybody's for finance. */
export async function linesFile(
  read: (actor: Actor) => Promise<readonly LineView[] | null>,
  name: string,
): Promise<Response> {
  const actor = await currentActor();
  const lines = actor === null ? null : await read(actor);
  if (actor === null || lines === null) return noDownload();
  const asOf = civilDateAt(new Date(), "UTC");
  const rows = lines.map((line) => ({
    ...line,
    state: lineStateWords[line.state],
    claimedOn: civilDateAt(line.claimedAt, "UTC"),
    paidOn: line.paidAt === null ? null : civilDateAt(line.paidAt, "UTC"),
  }));
  return fileLeaves(actor, {}, `${name}-${asOf}`, statementCsv(asOf, rows));
}
