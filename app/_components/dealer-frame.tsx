import type { ReactNode } from "react";
import { PageFrame } from "@/app/_components/page-frame";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { readOwnWorkshopName } from "@/lib/data/accounts/dealers";

const ways = [
  { href: "/dealer", label: "My returns" },
  { href: "/dealer/returns/new", label: "New return" },
  { href: "/dealer/notices", label: "Messages" },
  { href: "/dealer/statement", label: "Statement" },
  { href: "/danger", label: "Danger" },
] as const;
const accounts = { href: "/dealer/accounts", label: "Accounts" } as const;

interface DealerFrameProps {
  readonly actor: Actor;
  readonly current?: (typeof ways)[number]["href"] | typeof accounts.href;
  readonly children: ReactNode;
}

/** The workshop stands beside the name, because a shared phone serves several people and a browser several workshops. */
export async function DealerFrame({ actor, current, children }: DealerFrameProps) {
  const workshop = await readOwnWorkshopName(actor);
  return (
    <PageFrame
      person={actor.name}
      forWhom={workshop ?? "Dealer"}
      nav={may(actor, "manage-own-dealer-accounts") ? [...ways, accounts] : ways}
      {...(current === undefined ? {} : { current })}
    >
      {children}
    </PageFrame>
  );
}
