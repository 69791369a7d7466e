"use client";

import { Button } from "@/app/_components/button";
import type { SheetKind } from "@/lib/data/transport/printed-sheets";
import type { Leg } from "@/lib/transport/leg";
import { recordPrintAction } from "./actions";

/** Notes that the sheet was printed, then opens the browser's own dialog. */
export function PrintButton({ reference, sheet, leg }: { reference: string; sheet: SheetKind; leg: Leg }) {
  async function print() {
    await recordPrintAction(reference, sheet, leg);
    window.print();
  }
  return <Button onClick={print}>Print</Button>;
}
