import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { AccountDesk } from "@/app/_accounts/account-desk";
import { HouseFrame } from "@/app/_components/house-frame";
import { rolesToGive } from "@/lib/access/account-rules";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { listDealers } from "@/lib/data/dealers";
import { listAccounts } from "@/lib/data/users";
import { closeAction, editAction, inviteAction, inviteAgainAction, nameDeputyAction, openAgainAction } from "./actions";

export const metadata: Metadata = { title: "Accounts" };

export default async function AccountsPage() {
  const actor = await requireActor("manage-all-accounts", "manage-staff-accounts");
  const accounts = await listAccounts(actor);
  if (accounts === null) notFound();
  return (
    <HouseFrame actor={actor} current="/accounts">
      <h1 className="mb-5">Accounts</h1>
      {may(actor, "read-exports") ? (
        <p className="mb-5">
          <Link href="/exports">Files that somebody took</Link>
        </p>
      ) : null}
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
    </HouseFrame>
  );
}
