import { notFound } from "next/navigation";
import { requireActor } from "@/lib/auth/session";
import { type PrintableSheet, readSheet, type SheetKind } from "@/lib/data/transport/printed-sheets";
import { type Leg, legAsked } from "@/lib/transport/leg";

export interface SheetPageProps {
  readonly params: Promise<{ readonly reference: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export interface OpenedSheet {
  readonly found: PrintableSheet;
  readonly leg: Leg;
  /** The page of the return this person came from. */
  readonly back: string;
}

/** The sheet for whoever may see the return; a page that does not exist for everyone else. */
export async function openSheet(
  { params, searchParams }: Pick<SheetPageProps, "params"> & Partial<SheetPageProps>,
  sheet: SheetKind,
): Promise<OpenedSheet> {
  const leg = legAsked((await searchParams)?.leg);
  const actor = await requireActor("read-build-record", "read-own-returns");
  const { reference } = await params;
  const found = await readSheet(actor, reference, sheet, leg);
  if (found === null) notFound();
  const shown = found.kind === "refused" ? found.reference : found.transport.reference;
  const transport = `/bench/${shown}/transport${leg === "to-maker" ? "" : `/${leg}`}`;
  return { found, leg, back: actor.dealerId === null ? transport : `/dealer/returns/${shown}` };
}
