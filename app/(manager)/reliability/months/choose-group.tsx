import Link from "next/link";
import type { RevisionsOfModel } from "@/lib/data/reliability/month-triangle";
import { monthsHref } from "./month-cell-address";

/** An address without a group: what can be asked for. All packs together would mix models, which fail in ways of their own. */
export function ChooseGroup({ models }: { readonly models: readonly RevisionsOfModel[] }) {
  return (
    <div className="space-y-4">
      <p className="max-w-4xl">
        The months of sale are told of one group at a time, because packs of several models taken together would show
        how many of each were sold, not how they fare. Choose a revision here; a lot, a firmware or a dealer has the
        same table on its own page, which its name under{" "}
        <Link href="/reliability" className="text-accent underline underline-offset-4">
          failure rates
        </Link>{" "}
        opens.
      </p>
      {models.length === 0 ? <p className="text-soft">No model is on record yet.</p> : null}
      {models.map(({ model, revisions }) => (
        <section key={model} aria-label={model} className="space-y-1">
          <h2>{model}</h2>
          {revisions.length === 0 ? (
            <p className="text-soft">It has no revision yet.</p>
          ) : (
            <ul className="flex flex-wrap gap-x-5">
              {revisions.map((code) => (
                <li key={code}>
                  <Link
                    href={monthsHref({ by: "revision", group: code })}
                    prefetch={false}
                    className="inline-flex min-h-11 items-center text-accent underline underline-offset-4"
                  >
                    {code}
                  </Link>
                </li>
              ))}
            </ul>
          )}
        </section>
      ))}
    </div>
  );
}
