import Link from "next/link";
import type { ReactNode } from "react";

export function RevisionLink({ code, children }: { code: string; children: ReactNode }) {
  return (
    <Link
      href={`/reliability/${encodeURIComponent(code)}`}
      prefetch={false}
      className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
    >
      {children}
    </Link>
  );
}
