import { LocalTime } from "@/app/_components/local-time";
import { Stamp } from "@/app/_components/status-line";
import type { ProposalState } from "@/lib/access/two-people";
import type { TwoPeople } from "@/lib/data/two-people";

const stateWords: Readonly<Record<ProposalState, string>> = {
  proposed: "Proposed",
  approved: "Approved",
  dropped: "Dropped",
};
const stateTones = { proposed: "warn", approved: "good", dropped: "plain" } as const;

export function ProposalStamp({ state, isInForce = false }: { state: ProposalState; isInForce?: boolean }) {
  return <Stamp tone={stateTones[state]}>{isInForce ? "In force" : stateWords[state]}</Stamp>;
}

/** Who proposed it and who settled it, with the times. */
export function ProposalPeople({ people }: { people: TwoPeople }) {
  const { state, proposedByName, proposedAt, settledByName, settledAt } = people;
  return (
    <p className="text-soft">
      {proposedByName === null ? "Written at set-up" : `Proposed by ${proposedByName}, `}
      {proposedByName === null ? null : <LocalTime at={proposedAt} />}
      {settledAt === null || settledByName === null ? null : (
        <>
          {` · ${stateWords[state]} by ${settledByName}, `}
          <LocalTime at={settledAt} />
        </>
      )}
    </p>
  );
}
