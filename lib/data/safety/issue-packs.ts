import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type IssuePacks, type PacksRefusal, packsRefusals } from "@/lib/packs/issue-proposal";
import type { AffectedPack } from "@/lib/reliability/affected-packs";
import { standingOfSet } from "@/lib/reliability/affected-set";
import { Prisma } from "@/prisma/generated/client";
import { asSystem, type Transaction } from "../database";
import { type IssueBound, packsUnder } from "../packs/issue-bounds";
import { readPacksLike } from "./affected-packs";
import { readSetEvent } from "./affected-sets";

export type IssuePacksAnswer =
  | {
      readonly kind: "packs";
      readonly bound: IssueBound;
      /** What they share, in words. */
      readonly words: string;
      readonly packs: readonly AffectedPack[];
    }
  | { readonly kind: "refused"; readonly reason: PacksRefusal; readonly field: string; readonly sentence: string };

/**
 * The packs an issue bound so would concern today, and where they are: what whoever proposes one sees first. Null for whoever may
 * not propose one. As the system, because to which dealer a pack was dispatched is a column no person is granted.
 */
export async function findIssuePacks(actor: Actor, named: IssuePacks): Promise<IssuePacksAnswer | null> {
  if (!may(actor, "propose-known-issue")) return null;
  return asSystem(async (tx) => {
    const read = await readBound(tx, named);
    if (typeof read === "string") return { kind: "refused", reason: read, ...packsRefusals[read] };
    const ids = (await tx.pack.findMany({ where: packsUnder(read), select: { id: true } })).map(({ id }) => id);
    const packs = await readPacksLike(tx, Prisma.sql`p."id" = ANY (${ids}::uuid[])`);
    if (packs.length === 0) {
      const field = read.setId !== null ? "set" : read.revisionId !== null ? "revision" : "lot";
      return { kind: "refused", reason: "no-pack", ...packsRefusals["no-pack"], field };
    }
    return { kind: "packs", bound: read, words: sayBound(named), packs };
  });
}

/** "Revision GW-A", "revision GW-A with lot CBR-09", "the packs of set 3". */
export function sayBound({ revision, lot, set }: IssuePacks): string {
  if (set !== "") return `The packs of set ${set}`;
  if (revision === "") return `Packs with ${sayLot(lot)}`;
  return lot === "" ? `Packs of revision ${revision}` : `Packs of revision ${revision} with ${sayLot(lot)}`;
}

/** "lot CBR-09"; "cell lot CBR-09" where its kind stands before it. */
function sayLot(typed: string): string {
  const [, kind, code] = kindAndCode.exec(typed) ?? [];
  return kind === undefined || code === undefined ? `lot ${typed}` : `${kind} lot ${code}`;
}

const kindAndCode = /^(cell|joining|potting|board)\s+(\S.*)$/;

async function readBound(tx: Transaction, { revision, lot, set }: IssuePacks): Promise<IssueBound | PacksRefusal> {
  if (set !== "") return revision !== "" || lot !== "" ? "set-beside-others" : readSet(tx, set);
  if (revision === "" && lot === "") return "nothing-named";
  const known =
    revision === "" ? null : await tx.revision.findUnique({ where: { code: revision }, select: { id: true } });
  if (revision !== "" && known === null) return "no-such-revision";
  const lots = lot === "" ? [] : await findLots(tx, lot);
  const [only, another] = lots;
  if (lot !== "" && only === undefined) return "no-such-lot";
  if (another !== undefined) return "lot-of-two-kinds";
  return { revisionId: known?.id ?? null, lotId: only?.id ?? null, setId: null };
}

/** By its code, or by kind and code where two kinds share one. */
function findLots(tx: Transaction, typed: string): Promise<{ id: string }[]> {
  const [, kind, code] = kindAndCode.exec(typed) ?? [];
  const where = kind === undefined || code === undefined ? { code: typed } : { kind, code };
  return tx.lot.findMany({ where, select: { id: true } });
}

async function readSet(tx: Transaction, typed: string): Promise<IssueBound | PacksRefusal> {
  if (!/^[1-9]\d{0,8}$/.test(typed)) return "no-such-set";
  const row = await tx.affectedSet.findUnique({
    where: { number: Number(typed) },
    select: { id: true, events: { orderBy: { sequence: "asc" }, select: { kind: true, byUserId: true } } },
  });
  if (row === null) return "no-such-set";
  const { state } = standingOfSet(row.events.map((event) => ({ ...event, kind: readSetEvent(event.kind) })));
  return state === "frozen" ? { revisionId: null, lotId: null, setId: row.id } : "set-not-frozen";
}
