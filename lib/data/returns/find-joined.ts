import "server-only";
import { type JoinRefusal, joinRefusals, whyNotJoined } from "@/lib/returns/join-returns";
import { readReturnReference } from "@/lib/returns/return-reference";
import { readReturnStatus } from "@/lib/returns/return-status";
import type { Transaction } from "../database";

type Joined =
  | { readonly kind: "found"; readonly id: string }
  | { readonly kind: "refused"; readonly reason: JoinRefusal; readonly sentence: string };

/** The return in which another goes on, by the reference somebody typed, or why it cannot. */
export async function findJoined(
  tx: Transaction,
  typed: string,
  own: { readonly id: string; readonly dealerId: string; readonly packId: string },
): Promise<Joined> {
  const reading = readReturnReference(typed);
  const other =
    reading.kind === "reference"
      ? await tx.return.findUnique({
          where: { reference: reading.reference },
          select: { id: true, dealerId: true, packId: true, status: true },
        })
      : null;
  if (other === null || other.id === own.id) return refused("duplicate-unknown");
  const target = { ...other, status: readReturnStatus(other.status) };
  const why = whyNotJoined(own, target, await readChain(tx, own.packId));
  return why === null ? { kind: "found", id: other.id } : refused(why);
}

function refused(reason: JoinRefusal): Joined {
  return { kind: "refused", reason, sentence: joinRefusals[reason] };
}

/** The packs that replaced one another, older and newer, with this one among them. */
async function readChain(tx: Transaction, packId: string): Promise<ReadonlySet<string>> {
  const rows = await tx.$queryRaw<{ pack: string }[]>`
    WITH RECURSIVE "older" AS (
      SELECT ${packId}::uuid AS "pack"
      UNION SELECT r."oldPackId" FROM "Replacement" r JOIN "older" o ON r."newPackId" = o."pack"
    ), "newer" AS (
      SELECT ${packId}::uuid AS "pack"
      UNION SELECT r."newPackId" FROM "Replacement" r JOIN "newer" n ON r."oldPackId" = n."pack"
    )
    SELECT "pack"::text AS "pack" FROM "older" UNION SELECT "pack"::text FROM "newer"`;
  return new Set(rows.map(({ pack }) => pack));
}
