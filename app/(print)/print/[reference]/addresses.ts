import type { PrintableSheet } from "@/lib/data/transport/printed-sheets";
import { countryName } from "@/lib/transport/country-name";
import { isInbound } from "@/lib/transport/leg";

interface Addresses {
  readonly from: readonly string[];
  readonly to: readonly string[];
}

/** Who sends and who gets the pack, line by line, by the way it goes. */
export function addressesOf({ transport, returnAddress }: Extract<PrintableSheet, { kind: "printable" }>): Addresses {
  const { dealer, leg, consignee } = transport;
  const atDealer = [dealer.name, dealer.town, countryName(dealer.country)];
  if (isInbound(leg)) return { from: atDealer, to: returnAddress };
  if (leg === "to-dealer") return { from: returnAddress, to: atDealer };
  return { from: returnAddress, to: (consignee ?? "").split("\n").filter((line) => line.trim() !== "") };
}
