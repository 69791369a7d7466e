import { type Serial, serialParts } from "@/lib/packs/serial";

export interface RatedModel {
  /** Two letters, the head of every serial of the model. */
  readonly code: string;
  readonly ratedCapacityAh: number;
  readonly ratedVoltageV: number;
}

export interface BoxContent {
  /** The model of the pack the return was lodged for. */
  readonly lodgedModelCode: string;
  /** Whether it is that pack: as scanned, or as somebody settled it since. */
  readonly is: "lodged-pack" | "other-pack" | "open";
  /** As scanned from the pack in the box; null where nothing could be read. */
  readonly foundSerial: Serial | null;
  /** Every model the maker builds or built; at least the lodged one. */
  readonly models: readonly RatedModel[];
}

/**
 * The energy a box counts with in its quarantine place, in kWh, as rated, whatever the charge. Where another pack lies in it
 * than the return was lodged for, its own; where nobody can say which, the largest it may be, so that no place holds more
 * than it says.
 */
export function energyInBoxKwh({ lodgedModelCode, is, foundSerial, models }: BoxContent): number {
  const ofModel = (code: string) => models.filter((model) => model.code === code).map(ratedKwh);
  const lodged = ofModel(lodgedModelCode);
  if (is === "lodged-pack") return Math.max(...lodged);
  const asScanned = foundSerial === null ? [] : ofModel(serialParts(foundSerial).model);
  const found = asScanned.length > 0 ? asScanned : models.map(ratedKwh);
  return Math.max(...found, ...(is === "open" ? lodged : []));
}

type Rated = Pick<RatedModel, "ratedCapacityAh" | "ratedVoltageV">;

export function ratedWh({ ratedCapacityAh, ratedVoltageV }: Rated): number {
  return ratedCapacityAh * ratedVoltageV;
}

export function ratedKwh(model: Rated): number {
  return ratedWh(model) / 1000;
}
