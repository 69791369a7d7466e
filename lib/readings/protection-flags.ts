/**
 * Names of the protection event bits, bit 0 first.
 * Source: SunSpec information model 802 (lithium-ion battery bank), point `Evt1`, Apache-2.0 vocabulary. Bit 27 is
 * reserved there.
 */
export const protectionFlagNames = [
  "COMMUNICATION_ERROR",
  "OVER_TEMP_ALARM",
  "OVER_TEMP_WARNING",
  "UNDER_TEMP_ALARM",
  "UNDER_TEMP_WARNING",
  "OVER_CHARGE_CURRENT_ALARM",
  "OVER_CHARGE_CURRENT_WARNING",
  "OVER_DISCHARGE_CURRENT_ALARM",
  "OVER_DISCHARGE_CURRENT_WARNING",
  "OVER_VOLT_ALARM",
  "OVER_VOLT_WARNING",
  "UNDER_VOLT_ALARM",
  "UNDER_VOLT_WARNING",
  "UNDER_SOC_MIN_ALARM",
  "UNDER_SOC_MIN_WARNING",
  "OVER_SOC_MAX_ALARM",
  "OVER_SOC_MAX_WARNING",
  "VOLTAGE_IMBALANCE_WARNING",
  "TEMPERATURE_IMBALANCE_ALARM",
  "TEMPERATURE_IMBALANCE_WARNING",
  "CONTACTOR_ERROR",
  "FAN_ERROR",
  "GROUND_FAULT",
  "OPEN_DOOR_ERROR",
  "CURRENT_IMBALANCE_WARNING",
  "OTHER_ALARM",
  "OTHER_WARNING",
  "RESERVED_1",
  "CONFIGURATION_ALARM",
  "CONFIGURATION_WARNING",
] as const;

export type ProtectionFlag = (typeof protectionFlagNames)[number];

/** What the monitor says with each, the end of "its ...". Plain words of ours; the names above stand in the file alone. */
export const protectionFlagWords: Readonly<Record<ProtectionFlag, string>> = {
  COMMUNICATION_ERROR: "alarm that it no longer hears a part of the pack",
  OVER_TEMP_ALARM: "alarm for too much heat",
  OVER_TEMP_WARNING: "warning of heat",
  UNDER_TEMP_ALARM: "alarm for too much cold",
  UNDER_TEMP_WARNING: "warning of cold",
  OVER_CHARGE_CURRENT_ALARM: "alarm for too much current while charging",
  OVER_CHARGE_CURRENT_WARNING: "warning of much current while charging",
  OVER_DISCHARGE_CURRENT_ALARM: "alarm for too much current under load",
  OVER_DISCHARGE_CURRENT_WARNING: "warning of much current under load",
  OVER_VOLT_ALARM: "alarm for too high a voltage",
  OVER_VOLT_WARNING: "warning of a high voltage",
  UNDER_VOLT_ALARM: "alarm for too low a voltage",
  UNDER_VOLT_WARNING: "warning of a low voltage",
  UNDER_SOC_MIN_ALARM: "alarm that it is empty",
  UNDER_SOC_MIN_WARNING: "warning that it is nearly empty",
  OVER_SOC_MAX_ALARM: "alarm that it is too full",
  OVER_SOC_MAX_WARNING: "warning that it is nearly full",
  VOLTAGE_IMBALANCE_WARNING: "warning of groups that differ in voltage",
  TEMPERATURE_IMBALANCE_ALARM: "alarm for places that differ much in warmth",
  TEMPERATURE_IMBALANCE_WARNING: "warning of places that differ in warmth",
  CONTACTOR_ERROR: "alarm for its main switch",
  FAN_ERROR: "alarm for its fan",
  GROUND_FAULT: "alarm that current reaches the case",
  OPEN_DOOR_ERROR: "alarm for an open cover",
  CURRENT_IMBALANCE_WARNING: "warning of parts that share the current unequally",
  OTHER_ALARM: "alarm without a stated reason",
  OTHER_WARNING: "warning without a stated reason",
  RESERVED_1: "flag that no open list gives a meaning",
  CONFIGURATION_ALARM: "alarm for its settings",
  CONFIGURATION_WARNING: "warning of its settings",
};

/**
 * Whether one named bit is set in a logged `Evt1` word. A value that is missing, negative or no whole number has no bit set:
 * such a word says nothing. Uses division, not bit operators, so that bit 31 and above never turn negative.
 */
export function hasProtectionFlag(word: number, flag: ProtectionFlag): boolean {
  if (!Number.isSafeInteger(word) || word < 0) return false;
  return Math.floor(word / 2 ** protectionFlagNames.indexOf(flag)) % 2 === 1;
}
