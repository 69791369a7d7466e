import { z } from "zod";
import { type QueueFilter, queueFilters } from "@/lib/data/returns/return-queue";

/** What the address of the queue may say; anything else is taken as not said. */
const queueAddressSchema = z.object({
  show: z.enum(queueFilters).catch("open"),
  page: z.coerce.number().int().min(1).max(100_000).catch(1),
  find: z.string().trim().max(200).catch(""),
});

export type QueueAddress = z.output<typeof queueAddressSchema>;

export function readQueueAddress(searchParams: Record<string, string | string[] | undefined>): QueueAddress {
  return queueAddressSchema.parse(searchParams);
}

export function queueHref(show: QueueFilter, page: number): string {
  return page === 1 ? `/bench?show=${show}` : `/bench?show=${show}&page=${page}`;
}
