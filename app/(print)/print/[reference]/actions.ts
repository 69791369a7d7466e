"use server";

import { z } from "zod";
import { requireActor } from "@/lib/auth/session";
import { recordPrint, sheetKinds } from "@/lib/data/printed-sheets";

const printSchema = z.object({ reference: z.string().max(40), sheet: z.enum(sheetKinds) });

export async function recordPrintAction(reference: unknown, sheet: unknown): Promise<{ readonly ok: boolean }> {
  const actor = await requireActor("read-build-record", "read-own-returns");
  const read = printSchema.safeParse({ reference, sheet });
  return read.success ? recordPrint(actor, read.data.reference, read.data.sheet) : { ok: false };
}
