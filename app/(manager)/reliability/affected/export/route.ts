import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportAffectedPacks } from "@/lib/data/safety/affected-packs";
import { affectedCsv, affectedDefinitionSchema } from "@/lib/reliability/affected-packs";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The packs that share a cause as a file, with the day and what they share in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = affectedDefinitionSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return noDownload();
  const found = await exportAffectedPacks(actor, asked.data);
  if (found?.kind !== "packs") return noDownload();
  const today = civilDateAt(new Date(), "UTC");
  return fileLeaves(actor, choiceOf(request), `packs-concerned-${today}`, affectedCsv(today, asked.data, found.packs));
}
