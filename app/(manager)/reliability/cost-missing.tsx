import { Notice } from "@/app/_components/notice";
import { missingCost } from "@/lib/reliability/cost-sentences";
import type { PricedForecast } from "@/lib/reliability/priced-forecast";

/** What is missing before a cost can be told, each thing once. Nothing where nothing is missing. */
export function CostMissing({ revisions }: { readonly revisions: readonly PricedForecast[] }) {
  const sentences = [...new Set(revisions.flatMap(({ cost }) => missingCost(cost)))];
  if (sentences.length === 0) return null;
  return (
    <Notice kind="info" title="Some costs cannot be told yet">
      <ul className="list-disc space-y-1 pl-5">
        {sentences.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
    </Notice>
  );
}
