import Link from "next/link";
import { SerialText } from "@/app/_components/serial-text";
import { OrderedLine } from "@/app/_old-pack/ordered-line";
import type { ComesBackPage } from "@/lib/data/remedies/comes-back";
import { comesBackWords } from "@/lib/returns/comes-back";

/** For the dealer: what of an earlier remedy the customer gives back, by when, and how a pack travels then. */
export function AwaitedPart({ page: { last, isOverdue, unitShown } }: { page: ComesBackPage }) {
  return (
    <div className="space-y-4">
      <OrderedLine ordered={{ ...last, isOverdue }} words={comesBackWords[last.order]} />
      {last.order !== "comes-back" || unitShown === null ? null : (
        <p>
          If it is the pack <SerialText>{unitShown}</SerialText>: <Link href="/dealer/returns/new">lodge a return</Link>{" "}
          for it, so that it gets a transport class and packing of its own. Send nothing before, and leave a pack alone
          that is hot, swollen, wet or smells; local rules and trained people come first.
        </p>
      )}
      {last.order === "comes-back" ? <p>This return is closed only once it is back.</p> : null}
    </div>
  );
}
