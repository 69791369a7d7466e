import Link from "next/link";
import type { GroupAsked } from "@/lib/data/reliability/month-triangle";
import { severalModelsSentence } from "@/lib/reliability/several-models";
import { monthsHref } from "./month-cell-address";

/** Where packs are of several models: what that means for the numbers, and each model by itself. */
export function ModelChoice({ asked, models }: { readonly asked: GroupAsked; readonly models: readonly string[] }) {
  if (models.length < 2) return null;
  return (
    <div>
      {asked.model === undefined ? <p className="max-w-4xl">{severalModelsSentence(models.length)}</p> : null}
      <nav aria-label="Model" className="flex flex-wrap gap-x-6">
        {[undefined, ...models].map((model) => (
          <Link
            key={model ?? ""}
            href={monthsHref({ ...asked, model })}
            prefetch={false}
            {...(model === asked.model ? { "aria-current": "page" as const } : {})}
            className="inline-flex min-h-11 items-center text-accent underline underline-offset-4 aria-[current=page]:font-bold aria-[current=page]:text-ink aria-[current=page]:no-underline"
          >
            {model === undefined ? "All models" : `Model ${model}`}
          </Link>
        ))}
      </nav>
    </div>
  );
}
