import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { columnAnswersSchema } from "@/lib/readings/column-answers.schema";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { columnMappingSchema } from "@/lib/readings/column-mapping";
import type { ColumnAnswers } from "@/lib/readings/column-questions";
import { asActor, type Transaction } from "./database";
import type { RememberedColumns } from "./reading-worker/reading-task";

/** A dealer has a few programs that export readings: the latest kinds of file are known, and are those that the page lists. Engineering default. */
const MOST_REMEMBERED = 200;

/** What was confirmed about columns for this dealer, by the shape of the header. What an older release wrote otherwise is left out. */
export async function rememberedColumns(actor: Actor, dealerId: string): Promise<RememberedColumns[]> {
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

interface ConfirmedFor {
  readonly userId: string;
  /** Whose pack was read, also where the bench read it out. */
  readonly dealerId: string;
  readonly shapeHash: string;
}

/** Keeps the answers for the dealer's next file of this shape, in the caller's transaction; the newest answers count. */
export async function rememberColumns(
  tx: Transaction,
  { userId, dealerId, shapeHash }: ConfirmedFor,
  { mapping, timeZone }: ColumnAnswers,
): Promise<void> {
  const answers = { mapping, timeZone, confirmedByUserId: userId, confirmedAt: new Date() };
  await tx.columnMapping.upsert({
    where: { dealerId_shapeHash: { dealerId, shapeHash } },
    create: { dealerId, shapeHash, ...answers },
    update: answers,
  });
}

/** What is remembered of one kind of file, for the person who looks at it or withdraws it. */
export interface RememberedCard {
  readonly id: string;
  readonly dealerName: string;
  readonly confirmedAt: Date;
  /** IANA zone its dates are read in; null where they name their own. */
  readonly timeZone: string | null;
  readonly columns: readonly { readonly heading: string; readonly choice: ColumnChoice }[];
}

/** All that is remembered, newest first: of the own dealer, or of every dealer for the house. Null for who may not withdraw it. */
export async function listRememberedColumns(actor: Actor): Promise<readonly RememberedCard[] | null> {
  if (!may(actor, "withdraw-columns")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.columnMapping.findMany({
      ...(actor.dealerId === null ? {} : { where: { dealerId: actor.dealerId } }),
      orderBy: [{ confirmedAt: "desc" }, { id: "desc" }],
      take: MOST_REMEMBERED,
      select: { id: true, mapping: true, timeZone: true, confirmedAt: true, dealer: { select: { name: true } } },
    }),
  );
  return rows.map(({ mapping, dealer, ...row }) => ({ ...row, dealerName: dealer.name, columns: columnsOf(mapping) }));
}

function columnsOf(mapping: unknown): RememberedCard["columns"] {
  const read = columnMappingSchema.safeParse(mapping);
  return Object.entries(read.success ? read.data : {}).flatMap(([heading, choice]) =>
    typeof choice === "string" ? [] : [{ heading, choice }],
  );
}

/** Forgets the answers for one kind of file: the next of its kind is asked about again. Files that were read keep their own. */
export async function withdrawColumns(
  actor: Actor,
  id: string,
): Promise<{ readonly ok: true } | { readonly ok: false; readonly sentence: string }> {
  if (!may(actor, "withdraw-columns")) return notRemembered;
  const { count } = await asActor(actor, (tx) =>
    tx.columnMapping.deleteMany({ where: { id, ...(actor.dealerId === null ? {} : { dealerId: actor.dealerId }) } }),
  );
  return count === 0 ? notRemembered : { ok: true };
}

const notRemembered = { ok: false, sentence: "This is not remembered any more." } as const;

/** The answers a file was read with, as they are stored with it; null where there were none. */
export function storedAnswers(json: unknown): ColumnAnswers | null {
  return json === null ? null : columnAnswersSchema.parse(json);
}
