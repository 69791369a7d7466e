import Link from "next/link";
import type { ReactNode } from "react";
import { type Destination, MainWays } from "./main-ways";
import { SignOutButton } from "./sign-out-button";

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
        {/* Two rows on a telephone; where there is room the rows dissolve into one. */}
        <div
          className={`mx-auto px-4 sm:flex sm:items-center sm:gap-x-4 ${width === "column" ? "max-w-6xl" : widths.desk}`}
        >
          <div className="flex items-center justify-between gap-4 sm:contents">
            <Link href="/" className="flex min-h-12 items-center gap-2 font-bold tracking-tight whitespace-nowrap">
              <span aria-hidden className="size-3 rounded-full border-2 border-ink bg-paper" />
              Returns Bench
            </Link>
            <p className="text-right text-sm leading-tight sm:order-2 sm:ml-auto">
              <span className="sr-only">Signed in: </span>
              <span className="block font-semibold">{person}</span>
              <span className="block text-soft">{forWhom}</span>
            </p>
          </div>
          <div className="-mx-2 flex flex-wrap items-center sm:contents">
            <MainWays nav={nav} {...(current === undefined ? {} : { current })} />
            <div className="max-sm:ml-auto sm:order-3 sm:-mr-2">
              <SignOutButton />
            </div>
          </div>
        </div>
      </header>
      <main id="content" tabIndex={-1} className={`mx-auto px-4 py-6 focus:outline-none ${widths[width]}`}>
        {children}
      </main>
    </>
  );
}
