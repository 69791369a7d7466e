/** Kinds of instruments a test may ask for, each with the one unit it gives. Names and units: common practice, no source. */
export const instrumentKinds = [
  "voltmeter",
  "group-voltmeter",
  "insulation-tester",
  "four-wire-ohmmeter",
  "capacity-bench",
  "load-bench",
  "thermometer",
  "feeler-gauge",
  "leak-tester",
] as const;
export type InstrumentKind = (typeof instrumentKinds)[number];

export const instrumentKindWords: Readonly<Record<InstrumentKind, string>> = {
  voltmeter: "Voltmeter",
  "group-voltmeter": "Voltmeter for single groups",
  "insulation-tester": "Insulation tester",
  "four-wire-ohmmeter": "Four-wire ohmmeter",
  "capacity-bench": "Bench that counts charge",
  "load-bench": "Load bench",
  thermometer: "Thermometer or thermal camera",
  "feeler-gauge": "Straight-edge and feeler gauge",
  "leak-tester": "Leak tester",
};

export const instrumentUnits: Readonly<Record<InstrumentKind, string>> = {
  voltmeter: "V",
  "group-voltmeter": "mV",
  "insulation-tester": "MΩ",
  "four-wire-ohmmeter": "mΩ",
  "capacity-bench": "Ah",
  "load-bench": "V",
  thermometer: "K",
  "feeler-gauge": "mm",
  "leak-tester": "mbar/min",
};

export function readInstrumentKind(stored: string): InstrumentKind {
  const kind = instrumentKinds.find((known) => known === stored);
  if (kind === undefined) throw new RangeError(`kind of instrument: ${stored} is unknown`);
  return kind;
}
