import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { AccountDesk } from "@/app/_accounts/account-desk";
import { DealerFrame } from "@/app/_components/dealer-frame";
import { rolesToGive } from "@/lib/access/account-rules";
import { requireActor } from "@/lib/auth/session";
import { listAccounts } from "@/lib/data/accounts/users";
import { closeAction, editAction, inviteAction, inviteAgainAction, openAgainAction } from "./actions";

export const metadata: Metadata = { title: "Accounts" };

export default async function OwnAccountsPage() {
  const actor = await requireActor("manage-own-dealer-accounts");
  const accounts = await listAccounts(actor);
  if (accounts === null) notFound();
  return (
    <DealerFrame actor={actor} current="/dealer/accounts">
      <h1 className="mb-5">Accounts of your workshop</h1>
      <AccountDesk
        accounts={accounts}
        roles={rolesToGive(actor)}
        dealers={[]}
        ownUserId={actor.userId}
        actions={{
          invite: inviteAction,
          inviteAgain: inviteAgainAction,
          edit: editAction,
          close: closeAction,
          openAgain: openAgainAction,
        }}
      />
    </DealerFrame>
  );
}
