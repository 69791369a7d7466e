import { noDownload } from "@/app/_components/csv-download";
import { fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportSupplierClaims } from "@/lib/data/money/supplier-claims";
import { supplierCsv } from "@/lib/settlement/supplier-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

export async function GET(): Promise<Response> {
  const actor = await currentActor();
  const lines = actor === null ? null : await exportSupplierClaims(actor);
  if (actor === null || lines === null) return noDownload();
  const asOf = civilDateAt(new Date(), "UTC");
  const rows = lines.map((line) => ({ ...line, openedOn: civilDateAt(line.openedAt, "UTC") }));
  return fileLeaves(actor, {}, `supplier-lines-${asOf}`, supplierCsv(asOf, rows));
}
