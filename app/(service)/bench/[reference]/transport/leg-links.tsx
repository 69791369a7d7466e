import Link from "next/link";
import { type Leg, legWords } from "@/lib/transport/leg";

interface LegLinksProps {
  readonly reference: string;
  /** The way this page is of; it is named whether it can be or not. */
  readonly leg: Leg;
  readonly ways: readonly Leg[];
}

/** The ways a pack of this return may travel; each has a class of its own. */
export function LegLinks({ reference, leg, ways }: LegLinksProps) {
  const shown = ways.includes(leg) ? ways : [...ways, leg];
  // There is nothing to choose, and the head of the page names the one way.
  if (shown.length === 1) return null;
  return (
    <nav aria-label="Ways of this return" className="flex flex-wrap gap-x-5">
      {shown.map((one) => (
        <Link
          key={one}
          href={one === "to-maker" ? `/bench/${reference}/transport` : `/bench/${reference}/transport/${one}`}
          aria-current={one === leg ? "page" : undefined}
          className="flex min-h-11 items-center font-semibold underline underline-offset-4 aria-[current=page]:no-underline"
        >
          {legWords[one]}
        </Link>
      ))}
    </nav>
  );
}
