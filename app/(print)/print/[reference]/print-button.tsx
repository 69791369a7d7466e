"use client";

import { Button } from "@/app/_components/button";
import type { SheetKind } from "@/lib/data/printed-sheets";
import { recordPrintAction } from "./actions";

/** Notes that the sheet was printed, then opens the browser's own dialog. */
export function PrintButton({ reference, sheet }: { reference: string; sheet: SheetKind }) {
  async function print() {
    await recordPrintAction(reference, sheet);
    window.print();
  }
  return <Button onClick={print}>Print</Button>;
}
