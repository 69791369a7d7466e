import { ButtonLink } from "@/app/_components/button";
import type { QueueFilter } from "@/lib/data/returns/return-queue";
import { queueHref } from "./queue-address";

/** One page back, one page on, and where one is. */
export function PageLinks({ show, page, pages }: { show: QueueFilter; page: number; pages: number }) {
  if (pages === 1) return null;
  return (
    <nav aria-label="Pages" className="mt-5 flex flex-wrap items-center gap-3">
      {page > 1 ? (
        <ButtonLink href={queueHref(show, page - 1)} weight="second">
          Page before
        </ButtonLink>
      ) : null}
      <p>
        Page {page} of {pages}
      </p>
      {page < pages ? (
        <ButtonLink href={queueHref(show, page + 1)} weight="second">
          Next page
        </ButtonLink>
      ) : null}
    </nav>
  );
}
