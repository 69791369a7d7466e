import "server-only";
import type { Actor } from "@/lib/access/actor";
import { columnAnswersSchema } from "@/lib/readings/column-answers.schema";
import { columnMappingSchema } from "@/lib/readings/column-mapping";
import type { ColumnAnswers } from "@/lib/readings/column-questions";
import { asActor, type Transaction } from "./database";
import type { RememberedColumns } from "./reading-worker/reading-task";

/** A dealer has a few programs that export readings; the latest ones are known. Engineering default. */
const MOST_REMEMBERED = 50;

/** What people of this dealer, or of the house, confirmed about columns, by the shape of the header. What an older release wrote otherwise is left out. */
export async function rememberedColumns(actor: Actor): Promise<RememberedColumns[]> {
  const { dealerId } = actor;
  const rows = await asActor(actor, (tx) =>
    tx.columnMapping.findMany({
      where: { dealerId },
      orderBy: { confirmedAt: "desc" },
      take: MOST_REMEMBERED,
      select: { shapeHash: true, mapping: true, timeZone: true },
    }),
  );
  return rows.flatMap(({ shapeHash, mapping, timeZone }) => {
    const read = columnMappingSchema.safeParse(mapping);
    return read.success ? [{ shapeHash, mapping: read.data, timeZone }] : [];
  });
}

/** Keeps the answers for the next file of this shape, in the caller's transaction; the newest answers count. */
export async function rememberColumns(
  tx: Transaction,
  { userId, dealerId }: Pick<Actor, "userId" | "dealerId">,
  shapeHash: string,
  { mapping, timeZone }: ColumnAnswers,
): Promise<void> {
  const answers = { mapping, timeZone, confirmedByUserId: userId, confirmedAt: new Date() };
  // Not by its key, which the house's own have no dealer for.
  const { count } = await tx.columnMapping.updateMany({ where: { dealerId, shapeHash }, data: answers });
  if (count === 0)
    await tx.columnMapping.createMany({ data: [{ dealerId, shapeHash, ...answers }], skipDuplicates: true });
}

/** The answers a file was read with, as they are stored with it; null where there were none. */
export function storedAnswers(json: unknown): ColumnAnswers | null {
  return json === null ? null : columnAnswersSchema.parse(json);
}
