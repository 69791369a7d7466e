import type { ReactNode } from "react";
import { CalendarDay } from "@/app/_components/calendar-day";
import type { TwoPeople } from "@/lib/data/two-people";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { SettleButtons, type SettleButtonsProps } from "./settle-buttons";
import { ProposalPeople, ProposalStamp } from "./standing";

interface VersionCardProps extends Pick<SettleButtonsProps, "another" | "action"> {
  readonly row: TwoPeople & { readonly version: string; readonly validFrom: CalendarDate };
  readonly isInForce?: boolean;
  /** Whether the reader may settle a proposal at all. */
  readonly maySettle: boolean;
  /** What it says, and what it changes. */
  readonly children: ReactNode;
}

/** One dated version: its name and first day, why, what it says, and by whom. */
export function VersionCard({ row, isInForce = false, maySettle, another, action, children }: VersionCardProps) {
  const { version, validFrom, state, why } = row;
  return (
    <article className="card space-y-3 p-4">
      <div className="flex flex-wrap items-center gap-3">
        <h2 className="text-lg">
          {version}, from <CalendarDay date={validFrom} />
        </h2>
        <ProposalStamp state={state} isInForce={isInForce} />
      </div>
      {why === "" ? null : <p>{why}</p>}
      {children}
      <ProposalPeople people={row} />
      {state === "proposed" && maySettle ? (
        <SettleButtons
          proposal={version}
          spoken={`version ${version}`}
          isOwnProposal={row.isOwnProposal}
          another={another}
          action={action}
        />
      ) : null}
    </article>
  );
}
