import { SettleButtons } from "@/app/_two-people/settle-buttons";
import { ProposalPeople, ProposalStamp } from "@/app/_two-people/standing";
import type { TestPlanView } from "@/lib/data/bench-tests/test-plans";
import { settlePlanAction } from "./actions";
import { PlanTests } from "./plan-tests";

interface PlanCardProps {
  readonly plan: TestPlanView;
  readonly scope: string;
  readonly isInForce: boolean;
  readonly maySettle: boolean;
}

/** One version of a plan: what it changed, by whom, and all its tests. */
export function PlanCard({ plan, scope, isInForce, maySettle }: PlanCardProps) {
  const { version, state, changes, why, tests } = plan;
  return (
    <article className="card space-y-3 p-4">
      <div className="flex flex-wrap items-center gap-3">
        <h3>Version {version}</h3>
        <ProposalStamp state={state} />
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
      <ProposalPeople people={plan} />
      <details>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          Its {tests.length} tests
        </summary>
        <PlanTests tests={tests} />
      </details>
      {state === "proposed" && maySettle ? (
        <SettleButtons
          proposal={plan.id}
          spoken={`version ${version} for ${scope}`}
          isOwnProposal={plan.isOwnProposal}
          another="somebody else"
          action={settlePlanAction}
        />
      ) : null}
    </article>
  );
}
