import type { Metadata } from "next";
import { notFound } from "next/navigation";
import { type Column, DataTable } from "@/app/_components/data-table";
import { HouseFrame } from "@/app/_components/house-frame";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { roleWords } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { type AccountRow, listAccounts } from "@/lib/data/users";

export const metadata: Metadata = { title: "Accounts" };

const columns: readonly Column<AccountRow>[] = [
  { head: "Name", cell: ({ name }) => name },
  { head: "E-mail address", cell: ({ email }) => email },
  { head: "Role", cell: ({ role }) => labelOf(roleWords, role) },
  { head: "For whom", cell: ({ who }) => who },
  { head: "Closed", cell: ({ closedAt }) => (closedAt === null ? "No" : <LocalTime at={closedAt} />) },
];

export default async function AccountsPage() {
  const actor = await requireActor("manage-all-accounts", "manage-staff-accounts");
  const accounts = await listAccounts(actor);
  if (accounts === null) notFound();
  return (
    <HouseFrame actor={actor} current="/accounts">
      <h1 className="mb-5">Accounts</h1>
      <DataTable
        caption="Who can sign in, and as what"
        columns={columns}
        rows={accounts}
        rowKey={({ email }) => email}
        whenEmpty="There is no account that you keep."
      />
      <p className="mt-4 text-soft">
        A new account is opened with the add-user command on the machine that serves this.
      </p>
    </HouseFrame>
  );
}
