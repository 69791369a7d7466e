import { noDownload } from "@/app/_components/csv-download";
import { currentActor } from "@/lib/auth/session";
import { exportReturns } from "@/lib/data/returns/export-returns";
import { returnsCsv } from "@/lib/returns/returns-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fileLeaves } from "./file-leaves";

/** Returns as a file: a dealer's own, or everybody's for those of the house who may take them. */
export async function returnsFile(): Promise<Response> {
  const actor = await currentActor();
  const rows = actor === null ? null : await exportReturns(actor);
  if (actor === null || rows === null) return noDownload();
  const asOf = civilDateAt(new Date(), "UTC");
  return fileLeaves(actor, {}, `returns-${asOf}`, returnsCsv(asOf, rows));
}
