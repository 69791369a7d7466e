// Member states of the European Union, Iceland, Liechtenstein and Norway; Northern Ireland follows the same rule and
// cannot be told apart by country code (GB). From memory: verify.
export const unionAndArea: readonly string[] = [
  "AT", "BE", "BG", "CY", "CZ", "DE", "DK", "EE", "ES", "FI", "FR", "GR", "HR", "HU", "IE", "IS", "IT", "LI", "LT", "LU",
  "LV", "MT", "NL", "NO", "PL", "PT", "RO", "SE", "SI", "SK",
]; // biome-ignore format: one list
