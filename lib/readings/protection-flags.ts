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

/**
 * Whether one named bit is set in a logged `Evt1` word. A value that is missing, negative or no whole number has no bit set:
 * such a word says nothing. Uses division, not bit operators, so that bit 31 and above never turn negative.
 */
export function hasProtectionFlag(word: number, flag: ProtectionFlag): boolean {
  if (!Number.isSafeInteger(word) || word < 0) return false;
  return Math.floor(word / 2 ** protectionFlagNames.indexOf(flag)) % 2 === 1;
}
