import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { columnAnswersSchema } from "@/lib/readings/column-answers.schema";
import type { ColumnChoice } from "@/lib/readings/column-choice.schema";
import { columnMappingSchema } from "@/lib/readings/column-mapping";
import type { ColumnAnswers } from "@/lib/readings/column-questions";
import { asActor, type Transaction } from "../database";

/** Kinds of file listed at most: a page of more is not read by anybody. What is not listed counts all the same. Engineering default. */
const MOST_LISTED = 1000;

/**
 * What was confirmed about files of this header for this dealer; null where nothing was, or an older release wrote it otherwise. However
 * many kinds a dealer has, none is forgotten by itself: a file read by its headings instead, and unasked, may be read wrongly.
 */
export async function readRememberedColumns(
  actor: Actor,
  dealerId: string,
  shapeHash: string,
): Promise<ColumnAnswers | null> {
  const row = await asActor(actor, (tx) =>
    tx.columnMapping.findUnique({
      where: { dealerId_shapeHash: { dealerId, shapeHash } },
      select: { mapping: true, timeZone: true },
    }),
  );
  const read = columnMappingSchema.safeParse(row?.mapping);
  return row !== null && read.success ? { mapping: read.data, timeZone: row.timeZone } : null;
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

/** What is remembered, newest first: of the own dealer, or of every dealer for the house. Null for who may not withdraw it. */
export async function listRememberedColumns(actor: Actor): Promise<readonly RememberedCard[] | null> {
  if (!may(actor, "withdraw-columns")) return null;
  const rows = await asActor(actor, (tx) =>
    tx.columnMapping.findMany({
      ...(actor.dealerId === null ? {} : { where: { dealerId: actor.dealerId } }),
      orderBy: [{ confirmedAt: "desc" }, { id: "desc" }],
      take: MOST_LISTED,
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
