import { groupSerial, readSerial, type Serial } from "@/lib/packs/serial";
import { serialSentence } from "@/lib/packs/serial-sentence";

/** Whether the pack in the box is the pack of the return. */
export type IdentityCheck =
  | { readonly kind: "match"; readonly serial: Serial }
  | { readonly kind: "other-pack"; readonly serial: Serial; readonly sentence: string }
  | { readonly kind: "unreadable"; readonly sentence: string };

/**
 * Compares what was scanned from the pack itself with the serial the return was lodged for. Another serial is recorded,
 * never corrected: the return and the pack then both stay where they are until somebody has settled which is which.
 */
export function checkIdentity(scanned: string, lodgedFor: string): IdentityCheck {
  const reading = readSerial(scanned);
  if (reading.kind !== "serial") return { kind: "unreadable", sentence: serialSentence(reading) };
  if (reading.serial === lodgedFor) return { kind: "match", serial: reading.serial };
  const expected = readSerial(lodgedFor);
  const shown = expected.kind === "serial" ? groupSerial(expected.serial) : lodgedFor;
  return {
    kind: "other-pack",
    serial: reading.serial,
    sentence: `The pack says ${groupSerial(reading.serial)}, the return was lodged for ${shown}. Set it apart and tell the service desk: this may be the wrong box, or two packs of one dealer exchanged.`,
  };
}
