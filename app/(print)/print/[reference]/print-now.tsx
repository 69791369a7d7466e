"use client";

import { Button } from "@/app/_components/button";

/** Opens the browser's own dialog; a letter is no transport document, so nothing is noted of it. */
export function PrintNow() {
  return <Button onClick={() => window.print()}>Print</Button>;
}
