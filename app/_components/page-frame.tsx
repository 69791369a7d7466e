import Link from "next/link";
import type { ReactNode } from "react";
import { SignOutButton } from "./sign-out-button";

export interface Destination {
  readonly href: string;
  readonly label: string;
}

interface PageFrameProps {
  readonly person: string;
  /** The dealer, or the part of the house, the person works for. */
  readonly forWhom: string;
  readonly nav: readonly Destination[];
  /** href of the destination the page belongs to. */
  readonly current?: string;
  /** One column for the phone, or the whole desk. */
  readonly width?: "column" | "desk";
  readonly children: ReactNode;
}

const widths = { column: "max-w-2xl", desk: "max-w-[100rem]" } as const;

/** Head of every page of someone signed in: the product, the ways through it, who is here and for whom. */
export function PageFrame({ person, forWhom, nav, current, width = "column", children }: PageFrameProps) {
  return (
    <>
      <a
        href="#content"
        className="absolute left-2 top-2 z-10 -translate-y-20 bg-accent px-4 py-3 font-bold text-accent-ink focus:translate-y-0"
      >
        Skip to the content
      </a>
      <header className="border-b-2 border-ink bg-raised screen-only">
        <div
          className={`mx-auto grid grid-cols-[1fr_auto] items-center px-4 sm:grid-cols-[auto_1fr_auto_auto] sm:gap-x-6 ${widths[width]}`}
        >
          <Link href="/" className="flex min-h-12 items-center gap-2 font-bold tracking-tight whitespace-nowrap">
            <span aria-hidden className="size-3 rounded-full border-2 border-ink bg-paper" />
            Returns Bench
          </Link>
          <p className="text-right text-sm leading-tight sm:order-2">
            <span className="sr-only">Signed in: </span>
            <span className="block font-semibold">{person}</span>
            <span className="block text-soft">{forWhom}</span>
          </p>
          <nav aria-label="Main" className="-ml-3 flex flex-wrap sm:order-1 sm:ml-0">
            {nav.map(({ href, label }) => (
              <Link
                key={href}
                href={href}
                aria-current={href === current ? "page" : undefined}
                className="flex min-h-12 items-center border-b-4 border-transparent px-3 pt-1 font-semibold hover:border-rule aria-[current=page]:border-accent"
              >
                {label}
              </Link>
            ))}
          </nav>
          <div className="-mr-2 text-right sm:order-3">
            <SignOutButton />
          </div>
        </div>
      </header>
      <main id="content" tabIndex={-1} className={`mx-auto px-4 py-6 focus:outline-none ${widths[width]}`}>
        {children}
      </main>
    </>
  );
}
