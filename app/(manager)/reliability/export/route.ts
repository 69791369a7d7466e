import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportWatch } from "@/lib/data/reliability/watch";
import { comparisonChoiceSchema } from "@/lib/reliability/compare-by";
import { delayCsv } from "@/lib/reliability/delay-csv";
import { rankingCsv } from "@/lib/reliability/ranking-csv";
import { reliabilityCsv } from "@/lib/reliability/reliability-csv";
import { civilDateAt } from "@/lib/warranty/place-of-sale";

/** The table of the failure rates as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = new URL(request.url).searchParams;
  const choice = comparisonChoiceSchema.parse(Object.fromEntries(asked));
  const exported = actor === null ? null : await exportWatch(actor, civilDateAt(new Date(), "UTC"), choice);
  if (actor === null || exported === null) return noDownload();
  const { page, lines } = exported;
  if (asked.get("table") === "ranking")
    return fileLeaves(
      actor,
      choiceOf(request),
      `where-to-look-first-${choice.by}-${page.dataDate}`,
      rankingCsv(page.dataDate, choice, page.chosen.ranking),
    );
  if (asked.get("table") === "delays")
    return fileLeaves(
      actor,
      choiceOf(request),
      `delays-until-confirmed-${choice.by}-${page.dataDate}`,
      delayCsv(page.dataDate, page.lag, page.delays, page.dealerDelays),
    );
  return fileLeaves(
    actor,
    choiceOf(request),
    `failure-rates-${choice.by}-${page.dataDate}`,
    reliabilityCsv(page.dataDate, choice.by, lines),
  );
}
