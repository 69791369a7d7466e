import { stateOfHealth } from "@/lib/diagnosis/state-of-health";
import { coulombCountAh } from "@/lib/readings/integrate";
import { balancingHours } from "@/lib/readings/measure/balancing-hours";
import { fullDischarge } from "@/lib/readings/measure/discharge-capacity";
import { equivalentFullCycles } from "@/lib/readings/measure/equivalent-full-cycles";
import { type GroupResistance, groupResistance } from "@/lib/readings/measure/group-resistance";
import { leakCurrentA } from "@/lib/readings/measure/leak-current";
import { loadSteps, stepResistanceOhm } from "@/lib/readings/measure/load-step-resistance";
import { median, scaledMad } from "@/lib/readings/measure/median";
import { openCircuitCurve, slopeAtSoc, voltageAtSoc } from "@/lib/readings/measure/open-circuit";
import { meanCurrentA } from "@/lib/readings/measure/rest-current-offset";
import { surveyRows } from "@/lib/readings/measure/row-survey";
import { steepestRiseKPerMin, widestTemperatureSpreadK } from "@/lib/readings/measure/temperature-rates";
import { theilSenSlope } from "@/lib/readings/measure/theil-sen";
import { repairTime } from "@/lib/readings/time-repair";
import { column, readCheckColumns } from "./check-columns";
import { buildLog, constant, evenTimes } from "./log-builder";
import { openVehiclePack, vehicleModel } from "./open-vehicle-pack";
import { plainModel } from "./plain-model";

/** A value from outside, and how our own code comes to it. `null` from `ours` where the open file is absent. */
export interface CheckValue {
  readonly id: string;
  readonly value: number | null;
  readonly tolerance: number;
  readonly ours: () => number | null;
}

const once = <Result>(make: () => Result) => {
  let made: { readonly result: Result } | undefined;
  return () => {
    made ??= { result: make() };
    return made.result;
  };
};

// SINTEF rate test of a high-power pouch cell (Zenodo 17295469; battery-data-alliance/battery-data-format @1412b98).
const rateTest = once(() => {
  const columns = readCheckColumns(
    "readings/data/SINTEF__SLPBA842124HV__2024-10-23__Rate_25degC__Neware__Time_Bug.bdf.csv",
  );
  if (columns === null) return null;
  const loggedS = column(columns, "test_time_second");
  const { timeS, resets } = repairTime(loggedS, null);
  const currentA = column(columns, "current_ampere");
  const voltageV = column(columns, "voltage_volt");
  const step = column(columns, "step_index");
  return { columns, loggedS, timeS, resets: resets.length, currentA, voltageV, step };
});

type RateTest = NonNullable<ReturnType<typeof rateTest>>;

function ofRateTest(work: (data: RateTest) => number): () => number | null {
  return () => {
    const data = rateTest();
    return data === null ? null : work(data);
  };
}

function rangeOfStep({ step }: RateTest, index: number) {
  return { fromRow: step.indexOf(index), toRow: step.lastIndexOf(index) };
}

const netAh = (timeS: Float64Array, flow: Float64Array, range?: { fromRow: number; toRow: number }) =>
  coulombCountAh(timeS, flow, null, Number.POSITIVE_INFINITY, range).netAh;

function stepCharge(index: number) {
  return ofRateTest((data) => netAh(data.timeS, data.currentA, rangeOfStep(data, index)));
}

/** The same trapezoid over power instead of current: Wh. */
function stepEnergy(index: number) {
  return ofRateTest((data) => {
    const power = data.currentA.map((current, row) => current * (data.voltageV[row] ?? Number.NaN));
    return netAh(data.timeS, power, rangeOfStep(data, index));
  });
}

function stepMilliohm(index: number, afterS: number) {
  return ofRateTest(({ timeS, currentA, voltageV, step }) => {
    const gates = { leastChangeA: 5, withinS: 2, steadyBeforeS: 10, steadyShare: 0.05 };
    const at = loadSteps(timeS, currentA, new Int32Array(timeS.length), gates).find(
      ({ row, toA }) => step[row] === index && toA < 0,
    );
    if (at === undefined) throw new Error(`step ${index} not found`);
    return 1000 * (stepResistanceOhm(timeS, currentA, voltageV, at, afterS, [0, 5], 12) ?? Number.NaN);
  });
}

// NASA PCoE Li-ion Battery Aging, cell B0005 and the capacities of four cells as published with the data set.
function nasa(discharge: number) {
  const columns = readCheckColumns(`readings/data/nasa_B0005_discharge${discharge}.csv`);
  if (columns === null) return null;
  return {
    timeS: column(columns, "discharge_time"),
    currentA: column(columns, "current"),
    voltageV: column(columns, "voltage"),
  };
}

function nasaCapacity(discharge: number) {
  return () => {
    const data = nasa(discharge);
    if (data === null) return null;
    const log = buildLog({ timeS: data.timeS, currentA: data.currentA, cellVoltagesV: [data.voltageV] });
    const end = fullDischarge(surveyRows(log, 2), 4.2, 2.7);
    if (end === null) return Number.NaN;
    // Published from the first row on: the seconds before the load count as full with us and are added here.
    return coulombCountAh(data.timeS, data.currentA, null, Number.POSITIVE_INFINITY, { fromRow: 0, toRow: end.toRow })
      .netAh;
  };
}

function nasaStep(position: 0 | 1) {
  const data = nasa(1);
  if (data === null) return null;
  const gates = { leastChangeA: 1, withinS: 30, steadyBeforeS: 10, steadyShare: 0.05 };
  const step = loadSteps(data.timeS, data.currentA, new Int32Array(data.timeS.length), gates)[position];
  if (step === undefined) throw new Error("load step not found");
  return { ...data, step };
}

function nasaMilliohm(position: 0 | 1) {
  return () => {
    const data = nasaStep(position);
    if (data === null) return null;
    return 1000 * (stepResistanceOhm(data.timeS, data.currentA, data.voltageV, data.step, 0) ?? Number.NaN);
  };
}

/** First discharge, from 1, whose state of health falls below a share of `builtAh`; null where none does. */
function firstBelow(cell: string, share: number, builtAh: number | null) {
  return () => {
    const columns = readCheckColumns("readings/data/nasa_capacity_4cells.csv");
    if (columns === null) return null;
    const capacities = column(columns, cell);
    const at = capacities.findIndex(
      (foundAh) =>
        foundAh > 0 &&
        stateOfHealth({
          foundAh,
          foundErrorAh: null,
          builtAh: builtAh ?? capacities[0] ?? Number.NaN,
          cycles: null,
          cyclesTo80Percent: 1000,
        }).share < share,
    );
    return at < 0 ? Number.NaN : at + 1;
  };
}

// BatICM/unsupervised-battery-faults @57bb1c0, MIT (Nie et al., Energy 323 (2025) 135754).
const vehicle = once((): GroupResistance | null => {
  const log = openVehiclePack("readings/data/evpack_car4_first800.csv");
  if (log === null) return null;
  const limits = { leastChangeA: 10.05, longestS: 31, pairsNeeded: 30 };
  const result = groupResistance(surveyRows(log, vehicleModel.ratedCapacityAh), limits);
  if (result.outcome !== "measured") throw new Error(result.reason);
  return result.resistance;
});

function ofVehicle(work: (found: GroupResistance) => number): () => number | null {
  return () => {
    const found = vehicle();
    return found === null ? null : work(found);
  };
}

const event = once(() => {
  const log = openVehiclePack("readings/data/evpack_car4_event.csv");
  if (log === null) return null;
  const row = log.packVoltageV.findIndex((volt) => volt < 330);
  return { log, row, cells: log.cellVoltagesV.map((cell) => cell[row] ?? Number.NaN) };
});

function ofEvent(work: (data: NonNullable<ReturnType<typeof event>>) => number): () => number | null {
  return () => {
    const data = event();
    return data === null ? null : work(data);
  };
}

function driftOfDays(fromDay: number, toDay: number) {
  return () => {
    const columns = readCheckColumns("readings/data/evpack_car2_cell82_daily_rest.csv");
    if (columns === null) return null;
    const day = column(columns, "day");
    const off = column(columns, "cell82_minus_pack_median_mV");
    const inside = [...day.keys()].filter((row) => (day[row] ?? -1) >= fromDay && (day[row] ?? -1) <= toDay);
    return theilSenSlope(
      inside.map((row) => day[row] ?? 0),
      inside.map((row) => off[row] ?? 0),
    );
  };
}

// Half-cell fits as coded in PyBaMM @7c9f5bd (BSD-3), solved between 2.5 and 4.2 V by an independent script.
const chen: readonly (readonly [number, number])[] = [
  [0, 2.5],
  [5, 3.1094],
  [10, 3.2959],
  [20, 3.4852],
  [30, 3.5814],
  [40, 3.667],
  [50, 3.7509],
  [60, 3.8406],
  [70, 3.9479],
  [80, 4.0421],
  [90, 4.0967],
  [100, 4.2],
];
const ecker: readonly (readonly [number, number])[] = [
  [0, 2.5],
  [5, 3.2938],
  [10, 3.4586],
  [20, 3.587],
  [30, 3.7094],
  [40, 3.77],
  [50, 3.7873],
  [60, 3.8155],
  [70, 3.8823],
  [80, 3.9868],
  [90, 4.0789],
  [100, 4.2],
];

function curveVolt(isGeneric: boolean, soc: number) {
  return () => {
    const { openCircuit, ...unknown } = plainModel;
    const curve = openCircuitCurve(isGeneric || openCircuit === undefined ? unknown : { ...unknown, openCircuit });
    return curve === null ? Number.NaN : voltageAtSoc(curve, soc);
  };
}

const charges = [
  [4, -7.2797, -28.193],
  [8, -7.2539, -27.782],
  [12, -7.2378, -27.467],
  [16, -7.2114, -26.827],
  [21, -7.1931, -26.193],
] as const;
const resistances = [
  [8, 3.384, 6.397, 9.863],
  [12, 3.517, 6.305, 9.503],
  [16, 3.586, 6.076, 8.272],
  [21, 3.515, 5.715, 7.367],
] as const;
const lives = [
  ["B0005", 101, 125],
  ["B0006", 61, 109],
  ["B0007", 124, null],
  ["B0018", 75, 97],
] as const;

/** Every value that our own code can come to. Typed in, so that the closed ones are checked without any file. */
export const checkValues: readonly CheckValue[] = [
  { id: "slpba.rows", value: 13_086, tolerance: 0, ours: ofRateTest(({ timeS }) => timeS.length) },
  { id: "slpba.resets", value: 19, tolerance: 0, ours: ofRateTest(({ resets }) => resets) },
  {
    id: "slpba.net_raw",
    value: -953.3492,
    tolerance: 0.001,
    ours: ofRateTest(({ loggedS, currentA }) => netAh(loggedS, currentA)),
  },
  {
    id: "slpba.net",
    value: -3.1161,
    tolerance: 0.001,
    ours: ofRateTest(({ timeS, currentA }) => netAh(timeS, currentA)),
  },
  ...charges.flatMap(([step, ah, wh]): CheckValue[] => [
    { id: `slpba.Q.step${step}`, value: ah, tolerance: 0.0005, ours: stepCharge(step) },
    { id: `slpba.E.step${step}`, value: wh, tolerance: 0.002, ours: stepEnergy(step) },
  ]),
  ...resistances.flatMap(([step, r1, r10, r30]): CheckValue[] => [
    { id: `slpba.R1s.step${step}`, value: r1, tolerance: 0.01, ours: stepMilliohm(step, 1) },
    { id: `slpba.R10s.step${step}`, value: r10, tolerance: 0.01, ours: stepMilliohm(step, 10) },
    { id: `slpba.R30s.step${step}`, value: r30, tolerance: 0.01, ours: stepMilliohm(step, 30) },
  ]),
  {
    id: "slpba.EFC",
    value: 5.2852,
    tolerance: 0.001,
    ours: ofRateTest(({ timeS, currentA }) => equivalentFullCycles(buildLog({ timeS, currentA }), 6.55)),
  },
  {
    id: "slpba.dTdt",
    value: 6.96,
    tolerance: 0.1,
    ours: ofRateTest((data) => {
      const { fromRow, toRow } = rangeOfStep(data, 21);
      const warm = column(data.columns, "temperature_t2_celsius");
      return (
        steepestRiseKPerMin(data.timeS.subarray(fromRow, toRow + 1), warm.subarray(fromRow, toRow + 1))?.rate ??
        Number.NaN
      );
    }),
  },
  {
    id: "slpba.spreadT",
    value: 7.5,
    tolerance: 0.05,
    ours: ofRateTest(
      ({ columns }) =>
        widestTemperatureSpreadK([1, 2, 3].map((probe) => column(columns, `temperature_t${probe}_celsius`)))?.spreadK ??
        Number.NaN,
    ),
  },
  { id: "nasa.B0005.d1", value: -1.856487, tolerance: 1e-6, ours: nasaCapacity(1) },
  { id: "nasa.B0005.d168", value: -1.325079, tolerance: 1e-6, ours: nasaCapacity(168) },
  {
    id: "nasa.B0005.d1.whole",
    value: -1.862192,
    tolerance: 1e-6,
    ours: () => {
      const data = nasa(1);
      return data === null ? null : netAh(data.timeS, data.currentA);
    },
  },
  { id: "nasa.B0005.Ron", value: 107.346, tolerance: 0.01, ours: nasaMilliohm(0) },
  { id: "nasa.B0005.Roff", value: 192.019, tolerance: 0.01, ours: nasaMilliohm(1) },
  {
    id: "nasa.B0005.restI",
    value: -0.001848,
    tolerance: 1e-6,
    ours: () => {
      const data = nasaStep(1);
      return data === null ? null : meanCurrentA(data.currentA.subarray(data.step.row));
    },
  },
  ...lives.flatMap(([cell, below80, below14]): CheckValue[] => [
    { id: `nasa.${cell}.n80`, value: below80, tolerance: 0, ours: firstBelow(cell, 0.8, null) },
    // 1.4 Ah is 70 % of the rated 2 Ah.
    { id: `nasa.${cell}.n1p4`, value: below14, tolerance: 0, ours: firstBelow(cell, 0.7, 2) },
  ]),
  { id: "car4.n", value: 146, tolerance: 0, ours: ofVehicle(({ pairs }) => pairs) },
  { id: "car4.Rmed", value: 0.3706, tolerance: 0.0002, ours: ofVehicle(({ medianMilliohm }) => medianMilliohm) },
  {
    id: "car4.MAD",
    value: 0.006,
    tolerance: 0.0002,
    ours: ofVehicle(({ milliohm }) => (scaledMad(milliohm) ?? Number.NaN) / 1.4826),
  },
  { id: "car4.c63", value: 0.4544, tolerance: 0.0002, ours: ofVehicle(({ milliohm }) => milliohm[62] ?? Number.NaN) },
  { id: "car4.c19", value: 0.3988, tolerance: 0.0002, ours: ofVehicle(({ milliohm }) => milliohm[18] ?? Number.NaN) },
  {
    id: "car4.Rpack",
    value: 56.51,
    tolerance: 0.05,
    ours: ofVehicle(({ packMilliohm }) => packMilliohm ?? Number.NaN),
  },
  { id: "car4.sumR", value: 32.3, tolerance: 0.05, ours: ofVehicle(({ sumMilliohm }) => sumMilliohm) },
  { id: "car2.TS1", value: 0.091, tolerance: 0.002, ours: driftOfDays(0, 44) },
  { id: "car2.TS2", value: -1.222, tolerance: 0.002, ours: driftOfDays(45, 94) },
  ...chen.map(([soc, value]) => ({ id: `ocv.chen2020.${soc}`, value, tolerance: 1e-4, ours: curveVolt(true, soc) })),
  ...ecker.map(([soc, value]) => ({ id: `ocv.ecker2015.${soc}`, value, tolerance: 1e-4, ours: curveVolt(false, soc) })),
  {
    id: "sense.sum",
    value: 74,
    tolerance: 1e-9,
    ours: () => {
      const cells = Array.from({ length: 20 }, (_, index) => constant(1, index === 6 ? 4.3 : index === 7 ? 3.1 : 3.7));
      return surveyRows(buildLog({ timeS: evenTimes(1, 1), cellVoltagesV: cells }), 20).sumV[0] ?? Number.NaN;
    },
  },
  // Issue "Balancing abormality" of an open-source monitor, 2019-09: cells 20 and 21 read 4.87 and 2.57 V.
  { id: "sense.issue", value: 3.72, tolerance: 1e-9, ours: () => median([4.87, 2.57]) },
  {
    id: "offset",
    value: 2.4,
    tolerance: 1e-9,
    ours: () => coulombCountAh(evenTimes(25, 3600), constant(25, 0.1), null, 3600).netAh,
  },
  {
    id: "event.V0",
    value: 341.8,
    tolerance: 0.001,
    ours: ofEvent(({ log, row }) => log.packVoltageV[row - 1] ?? Number.NaN),
  },
  {
    id: "event.V1",
    value: 327.1,
    tolerance: 0.001,
    ours: ofEvent(({ log, row }) => log.packVoltageV[row] ?? Number.NaN),
  },
  { id: "event.n", value: 8, tolerance: 0, ours: ofEvent(({ cells }) => cells.filter(Number.isNaN).length) },
  {
    id: "event.cmax",
    value: 5,
    tolerance: 0.001,
    ours: ofEvent(({ cells }) => Math.max(...cells.filter(Number.isFinite))),
  },
  { id: "event.c32", value: 1.995, tolerance: 0.001, ours: ofEvent(({ cells }) => cells[31] ?? Number.NaN) },
  {
    id: "phone.counter",
    value: 0.1391,
    tolerance: 0.0005,
    ours: () => {
      const columns = readCheckColumns(
        "readings/data/SINTEF__G20M7-202512-Gru6mV__20251228__C30__25degC__Neware.bdf.csv",
      );
      if (columns === null) return null;
      const step = column(columns, "step_count");
      const range = { fromRow: step.indexOf(5), toRow: step.lastIndexOf(5) };
      const integralAh = -netAh(column(columns, "test_time_second"), column(columns, "current_ampere"), range);
      return (
        integralAh - Math.max(...column(columns, "discharging_capacity_ah").subarray(range.fromRow, range.toRow + 1))
      );
    },
  },
  { id: "bal.time", value: 20, tolerance: 1e-9, ours: () => balancingHours(20, 5, 0.05) },
  {
    id: "leak.1mV",
    value: 0.864,
    tolerance: 0.001,
    ours: () => 1000 * (leakCurrentA(20, 0.001, halfCharge()) ?? Number.NaN),
  },
];

/** V per %. The slope of the continuous fit at half charge, 9.65 mV per %, as a curve of two knots. */
function halfCharge(): number {
  const curve = openCircuitCurve({
    ...plainModel,
    openCircuit: [
      [0, 3.2684],
      [100, 4.2334],
    ],
  });
  return curve === null ? Number.NaN : slopeAtSoc(curve, 50);
}

const dataItself = "a capacity as it stands in the data set: nothing of ours computes it";
const needsWhole =
  "needs the complete files of the three vehicles, which are not kept; the extracts are checked without a false alarm instead";

/** Values that no code of ours comes to, each with the reason. */
export const valuesNotUsed: Readonly<Record<string, string>> = {
  "slpba.relax":
    "the slope of one cell's own voltage: drift is only ever judged against the median group, and only after four hours",
  ...Object.fromEntries(
    ["B0005", "B0006", "B0007", "B0018"].flatMap((cell) => [
      [`nasa.${cell}.first`, dataItself],
      [`nasa.${cell}.last`, dataItself],
    ]),
  ),
  "isc.100":
    "the drift a short of so many ohm would cause: the diagnosis goes the other way, from a drift to a current",
  "sense.fp": needsWhole,
  "sense.det.car1": needsWhole,
  "sense.det.car2": needsWhole,
  "sense.det.car4": needsWhole,
};
