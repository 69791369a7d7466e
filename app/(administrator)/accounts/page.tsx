import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AccountDesk } from "@/app/_accounts/account-desk";
import { HouseFrame } from "@/app/_components/house-frame";
import { rolesToGive } from "@/lib/access/account-rules";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listDealersOnRecord } from "@/lib/data/accounts/change-dealer";
import { listDealers } from "@/lib/data/accounts/dealers";
import { listAccounts } from "@/lib/data/accounts/users";
import { closeAction, editAction, inviteAction, inviteAgainAction, nameDeputyAction, openAgainAction } from "./actions";
import { AddDealer } from "./add-dealer";
import { DealerList } from "./dealer-list";

export const metadata: Metadata = { title: "Accounts" };

export default async function AccountsPage() {
  const actor = await requireActor("manage-all-accounts", "manage-staff-accounts");
  const accounts = await listAccounts(actor);
  if (accounts === null) notFound();
  return (
    <HouseFrame actor={actor} current="/accounts">
      <h1 className="mb-5">Accounts</h1>
      <p className="mb-5 flex flex-wrap gap-x-5 gap-y-2">
        {may(actor, "read-exports") ? <Link href="/exports">Files that somebody took</Link> : null}
        {may(actor, "read-emergency-looks") ? <Link href="/emergency-look">Emergency looks at a return</Link> : null}
      </p>
      <AccountDesk
        accounts={accounts}
        roles={rolesToGive(actor)}
        dealers={await listDealers(actor)}
        ownUserId={actor.userId}
        actions={{
          invite: inviteAction,
          inviteAgain: inviteAgainAction,
          edit: editAction,
          close: closeAction,
          openAgain: openAgainAction,
          ...(may(actor, "manage-all-accounts") ? { nameDeputy: nameDeputyAction } : {}),
        }}
      />
      {may(actor, "keep-dealers") ? (
        <div className="mt-8 space-y-8">
          <DealerList dealers={(await listDealersOnRecord(actor)) ?? []} />
          <AddDealer />
        </div>
      ) : null}
    </HouseFrame>
  );
}
