import type { ReactNode } from "react";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { PageFrame } from "./page-frame";

interface HouseFrameProps {
  readonly actor: Actor;
  readonly current?: "/bench" | "/reliability";
  readonly children: ReactNode;
}

/** Head of the pages of the maker's own people; everyone sees the ways that are open to them. */
export function HouseFrame({ actor, current, children }: HouseFrameProps) {
  const queue = { href: "/bench", label: "Returns" };
  const nav = may(actor, "read-reliability") ? [{ href: "/reliability", label: "Failure rates" }, queue] : [queue];
  return (
    <PageFrame
      person={actor.name}
      forWhom={actor.role === "manager" ? "Management" : "Service bench"}
      nav={nav}
      width="desk"
      {...(current === undefined ? {} : { current })}
    >
      {children}
    </PageFrame>
  );
}
