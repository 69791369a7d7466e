import { notFound } from "next/navigation";
import { requireActor } from "@/lib/auth/session";
import { type PrintableSheet, readSheet, type SheetKind } from "@/lib/data/printed-sheets";

export interface SheetPageProps {
  readonly params: Promise<{ readonly reference: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export interface OpenedSheet {
  readonly found: PrintableSheet;
  /** The page of the return this person came from. */
  readonly back: string;
}

/** The sheet for whoever may see the return; a page that does not exist for everyone else. */
export async function openSheet({ params }: Pick<SheetPageProps, "params">, sheet: SheetKind): Promise<OpenedSheet> {
  const actor = await requireActor("read-build-record", "read-own-returns");
  const { reference } = await params;
  const found = await readSheet(actor, reference, sheet);
  if (found === null) notFound();
  const shown = found.kind === "refused" ? found.reference : found.transport.reference;
  return { found, back: actor.dealerId === null ? `/bench/${shown}/transport` : `/dealer/returns/${shown}` };
}
