import type { RevisionFacts } from "@/lib/data/reliability/group-page";

export function ChangeList({ changes }: Pick<RevisionFacts, "changes">) {
  if (changes.length === 0) {
    return <p className="text-soft">It is the first revision of its model: nothing was changed for it.</p>;
  }
  return (
    <ul className="list-disc space-y-2 pl-5">
      {changes.map(({ what, why }) => (
        <li key={what}>
          {what}
          <span className="block text-soft">Why: {why}</span>
        </li>
      ))}
    </ul>
  );
}
