import type { ReactNode } from "react";
import { type Actor, roleWords } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { PageFrame } from "./page-frame";
import { UnansweredIncidents } from "./unanswered-incidents";
import { UnreadTold } from "./unread-told";

interface HouseFrameProps {
  readonly actor: Actor;
  readonly current?:
    | "/bench"
    | "/bench/post"
    | "/quarantine"
    | "/incidents"
    | "/reliability"
    | "/reliability/forecast"
    | "/policies"
    | "/money"
    | "/accounts"
    | "/told"
    | "/danger";
  readonly children: ReactNode;
}

/** Head of the pages of the maker's own people; everyone sees the ways that are open to them. */
export function HouseFrame({ actor, current, children }: HouseFrameProps) {
  const nav = [
    ...(may(actor, "read-reliability") ? [{ href: "/reliability", label: "Failure rates" }] : []),
    ...(may(actor, "read-forecast") && !may(actor, "read-reliability")
      ? [{ href: "/reliability/forecast", label: "What is to come" }]
      : []),
    ...(may(actor, "read-queue") ? [{ href: "/bench", label: "Returns" }] : []),
    ...(may(actor, "read-build-record") ? [{ href: "/quarantine", label: "Quarantine" }] : []),
    ...(may(actor, "read-incidents") ? [{ href: "/incidents", label: "Incidents" }] : []),
    ...(may(actor, "read-queue") ? [{ href: "/bench/post", label: "Post" }] : []),
    ...(may(actor, "read-policies") ? [{ href: "/policies", label: "Guarantee rules" }] : []),
    ...(may(actor, "read-money") && !may(actor, "read-cases-for-money") ? [{ href: "/money", label: "Money" }] : []),
    ...(may(actor, "read-cases-for-money") ? [{ href: "/money", label: "Money" }] : []),
    ...(may(actor, "manage-staff-accounts") || may(actor, "manage-all-accounts")
      ? [{ href: "/accounts", label: "Accounts" }]
      : []),
    ...(may(actor, "read-told") ? [{ href: "/told", label: "Messages", beside: <UnreadTold actor={actor} /> }] : []),
    ...(may(actor, "raise-safety") ? [{ href: "/danger", label: "Danger" }] : []),
  ];
  return (
    <PageFrame
      person={actor.name}
      forWhom={roleWords[actor.role]}
      nav={nav}
      width="desk"
      {...(current === undefined ? {} : { current })}
    >
      <UnansweredIncidents actor={actor} />
      {children}
    </PageFrame>
  );
}
