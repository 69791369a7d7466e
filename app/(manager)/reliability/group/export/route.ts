import { noDownload } from "@/app/_components/csv-download";
import { choiceOf, fileLeaves } from "@/app/_exports/file-leaves";
import { currentActor } from "@/lib/auth/session";
import { exportGroupPage, type GroupPage } from "@/lib/data/reliability/group-page";
import { delayTaken } from "@/lib/reliability/delay-csv";
import { groupCsv } from "@/lib/reliability/group-csv";
import {
  curveCsv,
  faultsCsv,
  type GroupTable,
  lawCsv,
  lawPointsCsv,
  ofModels,
  repeatsCsv,
} from "@/lib/reliability/group-tables-csv";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { groupTableAddressSchema } from "../group-address";

/** One table of one group as a file, with the data date in its name and in every row. */
export async function GET(request: Request): Promise<Response> {
  const actor = await currentActor();
  const asked = groupTableAddressSchema.safeParse(Object.fromEntries(new URL(request.url).searchParams));
  if (actor === null || !asked.success) return noDownload();
  const { table, ...group } = asked.data;
  const page = await exportGroupPage(actor, civilDateAt(new Date(), "UTC"), group);
  if (page === null) return noDownload();
  return fileLeaves(actor, choiceOf(request), `${fileNames[table]}-${page.dataDate}`, tableCsv(table, page));
}

const fileNames: Readonly<Record<GroupTable, string>> = {
  shares: "shares-failed",
  curve: "curve-of-failures",
  faults: "faults-found",
  law: "law-of-lives",
  "law-points": "points-of-the-law",
  repeats: "returns-of-one-customer",
};

function tableCsv(table: GroupTable, page: GroupPage): string {
  const { dataDate, by, line, life, lag, unknownStarts } = page;
  const about = { dataDate, by, group: line.group };
  const settledOn = plusDays(dataDate, -life.settled.days);
  switch (table) {
    case "shares": {
      const shares = ofModels(page, ({ line: { estimates, headline } }) => {
        return { estimates, headline: lag.kind === "no-lag" ? null : headline };
      });
      const delay = delayTaken(line.group, lag, page.delays, page.dealerDelays);
      return groupCsv({ ...about, shares, unknownStarts, delay });
    }
    case "curve":
      return curveCsv(
        about,
        ofModels(page, (one) => one.line),
      );
    case "faults":
      return faultsCsv(
        about,
        ofModels(page, (one) => one.life.faults),
      );
    case "law":
      return lawCsv(
        about,
        ofModels(page, (one) => one.life),
        settledOn,
      );
    case "law-points":
      return lawPointsCsv(
        about,
        ofModels(page, (one) => one.life),
        settledOn,
      );
    case "repeats":
      return repeatsCsv(
        about,
        ofModels(page, (one) => one.repeats),
      );
    default: {
      const never: never = table;
      return never;
    }
  }
}
