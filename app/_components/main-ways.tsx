import Link from "next/link";
import type { ReactNode } from "react";

export interface Destination {
  readonly href: string;
  readonly label: string;
  /** What stands beside the label, such as how many wait there. */
  readonly beside?: ReactNode;
}

interface MainWaysProps {
  readonly nav: readonly Destination[];
  readonly current?: string;
}

/** Ways that fit into two rows of a telephone. */
const FIT_ON_A_TELEPHONE = 5;
/** What stays in sight when there are more: the first ones, where the reader is, and where a danger is told. */
const FIRST_ONES = 2;
const ALWAYS_IN_SIGHT = "/danger";

/** The ways through the product. On a telephone those of many are folded behind one word; where there is room all stand in a row. */
export function MainWays({ nav, current }: MainWaysProps) {
  const staysInSight = ({ href }: Destination, position: number) =>
    nav.length <= FIT_ON_A_TELEPHONE || position < FIRST_ONES || href === current || href === ALWAYS_IN_SIGHT;
  const folded = nav.filter((way, position) => !staysInSight(way, position));
  return (
    // On a telephone the ways and "Sign out" share their rows, so that five of them take two.
    <nav aria-label="Main" className="whitespace-nowrap max-sm:contents sm:order-1 sm:flex sm:flex-wrap">
      {nav.map((way, position) => (
        <Way key={way.href} way={way} current={current} hidden={staysInSight(way, position) ? "" : "max-sm:hidden"} />
      ))}
      {folded.length === 0 ? null : (
        <details className="open:basis-full sm:hidden">
          <summary className="flex min-h-12 cursor-pointer items-center px-2 pt-1 font-semibold text-accent underline underline-offset-4">
            More
          </summary>
          <div className="flex flex-wrap">
            {folded.map((way) => (
              <Way key={way.href} way={way} current={current} hidden="" />
            ))}
          </div>
        </details>
      )}
    </nav>
  );
}

interface WayProps {
  readonly way: Destination;
  readonly current: string | undefined;
  /** The class that hides it where it is folded. */
  readonly hidden: string;
}

function Way({ way: { href, label, beside }, current, hidden }: WayProps) {
  return (
    <Link
      href={href}
      aria-current={href === current ? "page" : undefined}
      className={`flex min-h-12 items-center border-b-4 border-transparent px-2 pt-1 font-semibold sm:px-2.5 hover:border-rule aria-[current=page]:border-accent ${hidden}`}
    >
      {label}
      {beside}
    </Link>
  );
}
