import { FactList } from "@/app/_components/fact-list";
import { VersionCard } from "@/app/_two-people/version-card";
import type { SettingsVersion } from "@/lib/data/returns/settings-versions";
import { settleSettingsAction } from "./actions";

/** One version: what it changes, who proposed and who settled it, and all it says. */
export function SettingsCard({ version: row, maySettle }: { version: SettingsVersion; maySettle: boolean }) {
  const { changes, inWords, isInForce } = row;
  return (
    <VersionCard
      row={row}
      isInForce={isInForce}
      maySettle={maySettle}
      another="another manager"
      action={settleSettingsAction}
    >
      {changes === null ? null : changes.length === 0 ? (
        <p>It changes nothing.</p>
      ) : (
        <ul className="list-disc space-y-1 pl-5">
          {changes.map((change) => (
            <li key={change}>{change}</li>
          ))}
        </ul>
      )}
      <details>
        <summary className="min-h-11 cursor-pointer font-semibold">All it says</summary>
        <FactList facts={inWords.map(({ what, value }) => ({ term: what, detail: value }))} />
      </details>
    </VersionCard>
  );
}
