import Link from "next/link";
import { LineStanding } from "@/app/_components/line-standing";
import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import type { LineView } from "@/lib/data/money/settlement";
import { sayMoney } from "@/lib/settlement/money";

/** The dealer's lines one under another: a table of them is wider than a telephone. */
export function LineList({ lines }: { lines: readonly LineView[] }) {
  if (lines.length === 0) return <p className="text-soft">You have claimed nothing yet.</p>;
  return (
    <ol className="space-y-3">
      {lines.map((line) => (
        <li key={line.id} className="card space-y-1 p-3">
          <p className="flex flex-wrap items-baseline justify-between gap-x-4">
            <Link href={`/dealer/returns/${line.reference}`} className="text-accent underline underline-offset-4">
              <SerialText>{line.reference}</SerialText>
            </Link>
            <strong>{sayMoney(line.amountMinor, line.currency)}</strong>
          </p>
          <p>{line.what}</p>
          <p>
            <LineStanding line={line} />
          </p>
          <p className="text-soft">
            Claimed on <LocalTime at={line.claimedAt} /> by {line.claimedByName}
          </p>
        </li>
      ))}
    </ol>
  );
}
