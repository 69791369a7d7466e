"use client";

import Link from "next/link";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { StatusLine } from "@/app/_components/status-line";
import type { ReturnWords } from "./return-words";

/** The returns of the workshop. A part that the browser knows, so that its hundred cards travel as words once and not as elements too. */
export function ReturnList({ rows }: { rows: readonly ReturnWords[] }) {
  return (
    <ul className="space-y-3">
      {rows.map((row) => (
        <ReturnRow key={row.reference} row={row} />
      ))}
    </ul>
  );
}

// A card that is not in sight is not laid out: a telephone paints the first ones before it has reckoned with a hundred.
/** One return as a card: which pack, where it stands, whose turn it is, what to do next. The whole card opens it. */
function ReturnRow({ row }: { row: ReturnWords }) {
  return (
    <li className="card relative hover:border-ink [contain-intrinsic-size:auto_11rem] [content-visibility:auto]">
      {row.isDanger ? <div aria-hidden className="tape" /> : null}
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
          {row.isDanger ? <strong className="text-danger"> Danger signs: keep it set apart.</strong> : null}
        </p>
        <StatusLine status={row.status} tone={row.isDanger ? "danger" : "plain"} turn={row.turn} next={row.next} />
      </div>
    </li>
  );
}
