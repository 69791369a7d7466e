import Link from "next/link";
import type { ReactNode } from "react";
import type { CompareBy } from "@/lib/reliability/compare-by";
import { groupHref } from "./group/group-address";

interface GroupLinkProps {
  readonly by: CompareBy;
  readonly group: string;
  readonly children: ReactNode;
}

/** The way to the page of one revision, lot, dealer or other group. */
export function GroupLink({ by, group, children }: GroupLinkProps) {
  return (
    <Link
      href={groupHref(by, group)}
      prefetch={false}
      className="inline-block py-2.5 font-semibold text-accent underline underline-offset-4"
    >
      {children}
    </Link>
  );
}
