import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import {
  type DistributorImport,
  type LineProblem,
  readDistributorTable,
  whyNotSoldThen,
} from "@/lib/warranty/distributor-sales";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn, fromOptionalDateColumn, toDateColumn } from "../calendar-columns";
import { asActor } from "../database";

/** The newest sale by a distributor that is known of a pack: a later import corrects an earlier one. */
export const newestDistributorSale = {
  select: { soldOn: true, averageShelfDays: true },
  orderBy: { importedAt: "desc" },
  take: 1,
} as const;

export type ImportAnswer =
  | { readonly ok: true; readonly packs: number }
  | { readonly ok: false; readonly problems: readonly LineProblem[]; readonly sentence: string };

const refused = (problems: readonly LineProblem[]): ImportAnswer => ({
  ok: false,
  problems,
  sentence: problems.map(({ line, sentence }) => `Line ${line}: ${sentence}`).join(" "),
});

/** So many problems are told at once. Engineering default. */
const MOST_TOLD = 20;

/**
 * Brings in a distributor's sales, all of them or none: where no sale to a customer is known, the guarantee is counted from
 * there by the days a pack lies at a dealer's. What is on record is never changed; a later import counts.
 */
export async function importDistributorSales(
  actor: Actor,
  { distributor, averageShelfDays, table }: DistributorImport,
  now = new Date(),
): Promise<ImportAnswer> {
  if (!may(actor, "import-sales")) return { ok: false, problems: [], sentence: "A manager brings in sales." };
  const read = readDistributorTable(table);
  if (read.kind === "refused") return refused(read.problems);
  const today = civilDateAt(now, "UTC");
  return asActor(actor, async (tx) => {
    const found = await tx.pack.findMany({
      where: { serial: { in: read.rows.map(({ serial }) => serial) } },
      select: { id: true, serial: true, builtOn: true, dispatchedOn: true },
    });
    const packs = new Map(found.map((pack) => [pack.serial, pack]));
    const problems: LineProblem[] = [];
    const data = [];
    for (const { line, serial, soldOn } of read.rows) {
      const pack = packs.get(serial);
      const facts =
        pack === undefined
          ? null
          : { builtOn: fromDateColumn(pack.builtOn), dispatchedOn: fromOptionalDateColumn(pack.dispatchedOn) };
      const sentence = whyNotSoldThen(facts, soldOn, today);
      if (sentence !== null || pack === undefined) problems.push({ line, sentence: sentence ?? "" });
      else
        data.push({
          packId: pack.id,
          soldOn: toDateColumn(soldOn),
          averageShelfDays,
          distributor,
          importedAt: now,
          importedByUserId: actor.userId,
          importedByName: actor.name,
        });
    }
    if (problems.length > 0) return refused(problems.slice(0, MOST_TOLD));
    await tx.distributorSale.createMany({ data });
    return { ok: true, packs: data.length };
  });
}

export interface ImportedSales {
  readonly distributor: string;
  readonly packs: number;
  readonly averageShelfDays: number;
  readonly importedAt: Date;
  readonly importedByName: string;
}

/** What was brought in, the latest first; null for whoever may not bring any in. */
export async function listDistributorImports(actor: Actor): Promise<readonly ImportedSales[] | null> {
  if (!may(actor, "import-sales")) return null;
  const groups = await asActor(actor, (tx) =>
    tx.distributorSale.groupBy({
      by: ["distributor", "averageShelfDays", "importedAt", "importedByName"],
      _count: true,
      orderBy: { importedAt: "desc" },
    }),
  );
  return groups.map(({ _count, ...group }) => ({ ...group, packs: _count }));
}
