import Link from "next/link";
import { type Leg, legs, legWords } from "@/lib/transport/leg";

/** The ways a pack of this return may travel; each has a class of its own. */
export function LegLinks({ reference, leg }: { reference: string; leg: Leg }) {
  return (
    <nav aria-label="Ways of this return" className="flex flex-wrap gap-x-5">
      {legs.map((one) => (
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
