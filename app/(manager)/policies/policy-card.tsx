import { CalendarDay } from "@/app/_components/calendar-day";
import { LocalTime } from "@/app/_components/local-time";
import { OneStepForm } from "@/app/_components/one-step-form";
import { Stamp } from "@/app/_components/status-line";
import type { PolicyView } from "@/lib/data/policies";
import { settlePolicyAction } from "./actions";

const stateWords = { proposed: "Proposed", approved: "Approved", dropped: "Dropped" } as const;
const stateTones = { proposed: "warn", approved: "good", dropped: "plain" } as const;

interface PolicyCardProps {
  readonly policy: PolicyView;
  /** What the shadow run says now; for a proposal. */
  readonly shadow: string | null;
}

export function PolicyCard({ policy, shadow }: PolicyCardProps) {
  const { version, validFrom, state, inWords, why, proposedByName, proposedAt, settledByName, settledAt } = policy;
  return (
    <article className="card space-y-3 p-4">
      <div className="flex flex-wrap items-center gap-3">
        <h3>
          {version}, from <CalendarDay date={validFrom} />
        </h3>
        <Stamp tone={stateTones[state]}>{stateWords[state]}</Stamp>
      </div>
      <ul className="list-disc space-y-1 pl-5">
        {inWords.map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      {proposedByName === null ? null : <p>{why}</p>}
      {shadow === null ? null : <p className="font-semibold">{shadow}</p>}
      {policy.shadowSentence === null ? null : (
        <p className="text-soft">When it was settled: {policy.shadowSentence}</p>
      )}
      <p className="text-soft">
        {proposedByName === null ? why : `Proposed by ${proposedByName}, `}
        {proposedByName === null ? null : <LocalTime at={proposedAt} />}
        {settledAt === null ? null : ` · ${stateWords[state]} by ${settledByName}, `}
        {settledAt === null ? null : <LocalTime at={settledAt} />}
      </p>
      {state === "proposed" ? <Settling policy={policy} /> : null}
    </article>
  );
}

function Settling({ policy: { version, isOwnProposal } }: { policy: PolicyView }) {
  return (
    <div className="flex flex-wrap gap-3">
      {isOwnProposal ? (
        <p className="basis-full">You proposed this version, so another manager approves it.</p>
      ) : (
        <OneStepForm
          action={settlePolicyAction}
          hidden={{ version, verdict: "approved" }}
          button="Approve"
          spoken={`Approve version ${version}`}
          weight="main"
        />
      )}
      <OneStepForm
        action={settlePolicyAction}
        hidden={{ version, verdict: "dropped" }}
        button="Drop"
        spoken={`Drop version ${version}`}
      />
    </div>
  );
}
