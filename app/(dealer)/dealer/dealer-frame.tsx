import type { ReactNode } from "react";
import { PageFrame } from "@/app/_components/page-frame";
import type { Actor } from "@/lib/access/actor";

const nav = [
  { href: "/dealer", label: "My returns" },
  { href: "/dealer/returns/new", label: "New return" },
] as const;

interface DealerFrameProps {
  readonly actor: Actor;
  readonly current?: (typeof nav)[number]["href"];
  readonly children: ReactNode;
}

export function DealerFrame({ actor, current, children }: DealerFrameProps) {
  return (
    <PageFrame person={actor.name} forWhom="Dealer" nav={nav} {...(current === undefined ? {} : { current })}>
      {children}
    </PageFrame>
  );
}
