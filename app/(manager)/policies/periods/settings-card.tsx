import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import { Stamp } from "@/app/_components/status-line";
import type { SettingsVersion } from "@/lib/data/settings-versions";
import { settleSettingsAction } from "./actions";

const stateWords = { proposed: "Proposed", approved: "Approved", dropped: "Dropped" } as const;
const stateTones = { proposed: "warn", approved: "good", dropped: "plain" } as const;

/** One version: what it changes, who proposed and who settled it, and all it says. */
export function SettingsCard({ version: row }: { version: SettingsVersion }) {
  const { version, validFrom, state, changes, inWords, why, proposedByName, settledByName, settledAt } = row;
  return (
    <article className="card space-y-3 p-4">
      <div className="flex flex-wrap items-center gap-3">
        <h2>
          {version}, from <CalendarDay date={validFrom} />
        </h2>
        <Stamp tone={stateTones[state]}>{row.isInForce ? "In force" : stateWords[state]}</Stamp>
      </div>
      <p>{why}</p>
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
      <p className="text-soft">
        {proposedByName === null ? "Set up with the program" : `Proposed by ${proposedByName}, `}
        {proposedByName === null ? null : <LocalTime at={row.proposedAt} />}
        {settledAt === null ? null : ` · ${stateWords[state]} by ${settledByName}, `}
        {settledAt === null ? null : <LocalTime at={settledAt} />}
      </p>
      {state === "proposed" ? <Settling row={row} /> : null}
    </article>
  );
}

function Settling({ row: { version, isOwnProposal } }: { row: SettingsVersion }) {
  return (
    <div className="flex flex-wrap gap-3">
      {isOwnProposal ? (
        <p className="basis-full">You proposed this version, so another manager approves it.</p>
      ) : (
        <OneStepForm
          action={settleSettingsAction}
          hidden={{ version, verdict: "approved" }}
          button="Approve"
          spoken={`Approve version ${version}`}
          weight="main"
        />
      )}
      <OneStepForm
        action={settleSettingsAction}
        hidden={{ version, verdict: "dropped" }}
        button="Drop"
        spoken={`Drop version ${version}`}
      />
    </div>
  );
}
