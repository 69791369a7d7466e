import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import { Stamp } from "@/app/_components/status-line";
import type { TestPlanView } from "@/lib/data/test-plans";
import { settlePlanAction } from "./actions";
import { PlanTests } from "./plan-tests";

const stateWords = { proposed: "Proposed", approved: "Approved", dropped: "Dropped" } as const;
const stateTones = { proposed: "warn", approved: "good", dropped: "plain" } as const;

interface PlanCardProps {
  readonly plan: TestPlanView;
  readonly scope: string;
  readonly isInForce: boolean;
  readonly maySettle: boolean;
}

/** One version of a plan: what it changed, by whom, and all its tests. */
export function PlanCard({ plan, scope, isInForce, maySettle }: PlanCardProps) {
  const { version, state, changes, why, proposedByName, proposedAt, settledByName, settledAt, tests } = plan;
  return (
    <article className="card space-y-3 p-4">
      <div className="flex flex-wrap items-center gap-3">
        <h3>Version {version}</h3>
        <Stamp tone={stateTones[state]}>{stateWords[state]}</Stamp>
        {isInForce ? <strong>In force</strong> : null}
      </div>
      <p>{why}</p>
      {changes.length === 0 ? null : (
        <ul className="list-disc space-y-1 pl-5">
          {changes.map((sentence) => (
            <li key={sentence}>{sentence}</li>
          ))}
        </ul>
      )}
      <p className="text-soft">
        {proposedByName === null ? "Set up, " : `Proposed by ${proposedByName}, `}
        <LocalTime at={proposedAt} />
        {settledAt === null || settledByName === null ? null : (
          <>
            {` · ${stateWords[state]} by ${settledByName}, `}
            <LocalTime at={settledAt} />
          </>
        )}
      </p>
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          Its {tests.length} tests
        </summary>
        <PlanTests tests={tests} />
      </details>
      {state === "proposed" && maySettle ? <Settling plan={plan} scope={scope} /> : null}
    </article>
  );
}

function Settling({ plan: { id, version, isOwnProposal }, scope }: { plan: TestPlanView; scope: string }) {
  return (
    <div className="flex flex-wrap gap-3">
      {isOwnProposal ? (
        <p className="basis-full">You proposed this version, so somebody else approves it.</p>
      ) : (
        <OneStepForm
          action={settlePlanAction}
          hidden={{ id, verdict: "approved" }}
          button="Approve"
          spoken={`Approve version ${version} for ${scope}`}
          weight="main"
        />
      )}
      <OneStepForm
        action={settlePlanAction}
        hidden={{ id, verdict: "dropped" }}
        button="Drop"
        spoken={`Drop version ${version} for ${scope}`}
      />
    </div>
  );
}
