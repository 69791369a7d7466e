import Link from "next/link";
import { SerialText } from "@/app/_components/serial-text";
import type { AtStake } from "@/lib/data/safety/at-stake";
import { returnStatusWords } from "@/lib/returns/return-status";

/** Where packs that are held back are in somebody's hands: each leads to its return. */
export function AtStakeList({ atStake: { returns, kept, lent } }: { atStake: AtStake }) {
  if (returns.length + kept.length + lent.length === 0)
    return <p>None of its packs lies under an open return, is kept as a replacement or is lent.</p>;
  return (
    <div className="space-y-3">
      <PackList
        title="Under an open return"
        rows={returns.map(({ status, ...row }) => ({ ...row, note: returnStatusWords(status).toLowerCase() }))}
      />
      <PackList title="Kept as a replacement" rows={kept} />
      <PackList title="Lent to a customer" rows={lent} />
    </div>
  );
}

interface PackListProps {
  readonly title: string;
  readonly rows: readonly { readonly reference: string; readonly serialShown: string; readonly note?: string }[];
}

function PackList({ title, rows }: PackListProps) {
  if (rows.length === 0) return null;
  return (
    <div>
      <h3>
        {title}: {rows.length}
      </h3>
      <ul className="space-y-1">
        {rows.map(({ reference, serialShown, note }) => (
          <li key={`${reference} ${serialShown}`}>
            <SerialText>{serialShown}</SerialText>, <Link href={`/bench/${reference}/remedy`}>{reference}</Link>
            {note === undefined ? "" : `, ${note}`}
          </li>
        ))}
      </ul>
    </div>
  );
}
