import { readSerial } from "@/lib/packs/serial";
import { readReturnReference } from "./return-reference";

/** What somebody with the pack in hand says of its label: what the scanner read, or that the code cannot be read. */
export interface ScanOfPack {
  /** As a scanner that types sends it: the serial, the reference, or the address in the code of the traveller. */
  readonly scanned: string;
  readonly cannotBeRead: boolean;
}

export type ScanRefusal = "scan-missing" | "scan-other-pack";

/**
 * Whether the pack in hand is the pack that is moved. A code that cannot be read is said so in words, as the reason; anything
 * that was read has to be this pack.
 */
export function whyNotThisPack(
  { scanned, cannotBeRead }: ScanOfPack,
  pack: { readonly serial: string; readonly reference: string },
): ScanRefusal | null {
  const read = scanned.trim();
  if (read === "") return cannotBeRead ? null : "scan-missing";
  // The code of the traveller is the address of the return's page; its last part is the reference.
  const last = read.split("?")[0]?.split("/").filter(Boolean).at(-1) ?? "";
  const reference = readReturnReference(last);
  if (reference.kind === "reference") return reference.reference === pack.reference ? null : "scan-other-pack";
  const serial = readSerial(last);
  return serial.kind === "serial" && serial.serial === pack.serial ? null : "scan-other-pack";
}
