"use server";

import { z } from "zod";
import { requireActor } from "@/lib/auth/session";
import { recordPrint, sheetKinds } from "@/lib/data/transport/printed-sheets";
import { legs } from "@/lib/transport/leg";

const printSchema = z.object({ reference: z.string().max(40), sheet: z.enum(sheetKinds), leg: z.enum(legs) });

export async function recordPrintAction(
  reference: unknown,
  sheet: unknown,
  leg: unknown,
): Promise<{ readonly ok: boolean }> {
  const actor = await requireActor("read-build-record", "read-own-returns");
  const read = printSchema.safeParse({ reference, sheet, leg });
  if (!read.success) return { ok: false };
  return recordPrint(actor, read.data.reference, read.data.sheet, new Date(), read.data.leg);
}
