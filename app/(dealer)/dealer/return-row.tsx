import Link from "next/link";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { StatusLine } from "@/app/_components/status-line";
import type { DealerReturnRow } from "@/lib/data/returns";
import { returnStatusWords, undecidedStatuses } from "@/lib/returns/return-status";

/** One return as a card: which pack, where it stands, whose turn it is, what to do next. The whole card opens it. */
export function ReturnRow({ row }: { row: DealerReturnRow }) {
  // Once decided, what is to be done stands in the decision; tape on old cards would wear the sign out.
  const isDanger = row.danger && undecidedStatuses.some((status) => status === row.status);
  return (
    <li className="card relative hover:border-ink">
      {isDanger ? <div aria-hidden className="tape" /> : null}
      <div className="space-y-2 p-4">
        <p className="flex flex-wrap items-baseline justify-between gap-x-4">
          <Link
            href={`/dealer/returns/${row.reference}`}
            prefetch={false}
            className="text-lg font-bold text-accent underline underline-offset-4 after:absolute after:inset-0"
          >
            <SerialText>{row.reference}</SerialText>
          </Link>
          <span className="text-soft">
            <LocalTime at={row.lodgedAt} />
          </span>
        </p>
        <p>
          {row.modelName} <SerialText>{row.serialShown}</SerialText>
          {isDanger ? <strong className="text-danger"> Danger signs: keep it set apart.</strong> : null}
        </p>
        <StatusLine
          status={returnStatusWords(row.status)}
          tone={isDanger ? "danger" : "plain"}
          turn={row.turn}
          next={row.next}
        />
      </div>
    </li>
  );
}
