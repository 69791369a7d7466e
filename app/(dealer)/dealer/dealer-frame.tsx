import type { ReactNode } from "react";
import { PageFrame } from "@/app/_components/page-frame";
import type { Actor } from "@/lib/access/actor";
import { readOwnWorkshopName } from "@/lib/data/dealers";

const nav = [
  { href: "/dealer", label: "My returns" },
  { href: "/dealer/returns/new", label: "New return" },
  { href: "/dealer/notices", label: "Messages" },
  { href: "/dealer/statement", label: "Statement" },
] as const;

interface DealerFrameProps {
  readonly actor: Actor;
  readonly current?: (typeof nav)[number]["href"];
  readonly children: ReactNode;
}

/** The workshop stands beside the name, because a shared phone serves several people and a browser several workshops. */
export async function DealerFrame({ actor, current, children }: DealerFrameProps) {
  const workshop = await readOwnWorkshopName(actor);
  return (
    <PageFrame
      person={actor.name}
      forWhom={workshop ?? "Dealer"}
      nav={nav}
      {...(current === undefined ? {} : { current })}
    >
      {children}
    </PageFrame>
  );
}
