import "server-only";
import { readSerial } from "@/lib/packs/serial";
import { energyInBoxKwh } from "@/lib/receiving/energy-in-box";
import type { Transaction } from "../database";

interface ArrivalOfBox {
  readonly identity: string;
  readonly foundSerial: string | null;
  readonly settlement: { readonly outcome: string } | null;
}

/** The energy in kWh that what came in counts with in a quarantine place; without an arrival yet, that of the pack lodged. */
export async function readEnergyInBoxKwh(
  tx: Transaction,
  lodgedModelCode: string,
  arrival: ArrivalOfBox | null,
): Promise<number> {
  const models = await tx.packModel.findMany({ select: { code: true, ratedCapacityAh: true, ratedVoltageV: true } });
  const found = arrival?.foundSerial == null ? null : readSerial(arrival.foundSerial);
  const foundSerial = found?.kind === "serial" ? found.serial : null;
  return energyInBoxKwh({ lodgedModelCode, is: whatItIs(arrival), foundSerial, models });
}

function whatItIs(arrival: ArrivalOfBox | null): "lodged-pack" | "other-pack" | "open" {
  if (arrival === null || arrival.identity === "match" || arrival.settlement?.outcome === "same-pack")
    return "lodged-pack";
  return arrival.settlement?.outcome === "other-pack" ? "other-pack" : "open";
}
