/**
 * When a row, an interval or a pair of rows is good enough to be measured on. All are engineering defaults without
 * authority unless a line says otherwise; a pack model may carry its own.
 */
export interface MeasureGates {
  /** V. A group reading outside these is not a voltage of a cell: sentinel, truncated frame, open input. */
  readonly cellPlausibleV: readonly [number, number];
  /** degC. A probe outside these reads an open or shorted input or a sentinel (values 255 and 511 seen in open vehicle logs). */
  readonly temperaturePlausibleC: readonly [number, number];
  /** 1/h. |current| up to this share of rated capacity counts as rest. */
  readonly restCurrentPerHour: number;
  /** V. A parked logger whose median group moved more than this over a gap has been used meanwhile. */
  readonly parkedChangeV: number;
  /** s. Rest before a deviation between groups is read as one at rest. */
  readonly restForSpreadS: number;
  /** s. Rest before a voltage is read as open-circuit voltage; 2 h or more is preferred and lowers the uncertainty. */
  readonly restForOpenCircuitS: number;
  /** % of charge between two rests before a capacity is claimed from them. */
  readonly capacityWindowPercent: number;
  /** 1/h. Smallest |ΔI| of a pair for the resistance regression, as a share of rated capacity. */
  readonly pairCurrentPerHour: number;
  /** Pairs below which no group resistance is stated; from there on its own standard error decides. */
  readonly pairsNeeded: number;
  /** |r| of mean group voltage change with current change at the same row; below it the file is not synchronous. */
  readonly synchronyCorrelation: number;
  /** Share of load steps at which the typical group may repeat its last value. */
  readonly staleShare: number;
  /** s. Rest before the first point of a rest drift (relaxation reads as -190 to -270 mV/day before; SINTEF SLPBA842124HV). */
  readonly restForDriftS: number;
  /** s. Window a rest drift needs: with the wait before it a pack must have stood for two days. */
  readonly driftWindowS: number;
  /** s. The same two for a strong leak: half the wait, because relaxation is common to all groups and its limit is twice as high. */
  readonly restForShortDriftS: number;
  readonly shortDriftWindowS: number;
  /** s a contradiction between a switch's command and the current must last. */
  readonly switchContradictionS: number;
  /** A. Balance current of the board: turns a drop while balancing into a lead resistance. 50 mA is common practice, no source. */
  readonly balanceCurrentA: number;
  /** Share by which a current sensor may be off where nothing better is known: what every counted charge is known to. */
  readonly currentGainShare: number;
  /** V and % of charge by which the median group must have moved through a rest before a current is said to have flowed: more than relaxation and warmth do. */
  readonly drawMovedV: number;
  readonly drawMovedPercent: number;
  /** Charge read from the voltages over charge counted within which that count is believed: no better than the model's curve is known. */
  readonly drawBornOut: readonly [number, number];
  /** % of charge per day by which the median group must move where no current was logged, over a day and more. */
  readonly unloggedDrawPercentPerDay: number;
  /** s of relaxation passed over at the start of a rest before a current is looked for in it, s that must follow, and s over which one that was not logged must show. */
  readonly drawSettlesS: number;
  readonly drawLeastS: number;
  readonly unloggedDrawS: number;
  /**
   * Share of its pace in the first half of a rest that a draw must keep in the second, both held against the current counted: relaxation
   * fades, by the root of the time to under a third over ten hours and more.
   */
  readonly drawSteadyShare: number;
  /** s between rows from which a single reading may be all there is of an event. */
  readonly sparseS: number;
  /**
   * A single reading of a group beyond a limit: rows looked over for the one before, or after; share of its move that the pack voltage must
   * show; share that the neighbours may give back; and V from the row after up to which it stands as it did.
   */
  readonly loneRows: number;
  readonly lonePackShare: number;
  readonly loneNeighbourShare: number;
  readonly loneStandsV: number;
  /** V below the charge limit within which the median group counts as full. */
  readonly fullWithinV: number;
  /** 1/h. A charge has tapered, or is over, where no more than this over rated capacity still flows in. */
  readonly taperedPerHour: number;
  /** V by which two channels of the board may differ, so that a group stands elsewhere on the curve than it reads. */
  readonly channelV: number;
}

export const defaultMeasureGates: MeasureGates = {
  cellPlausibleV: [0.5, 5],
  temperaturePlausibleC: [-39.5, 150],
  restCurrentPerHour: 0.02,
  parkedChangeV: 0.03,
  restForSpreadS: 600,
  restForOpenCircuitS: 1800,
  capacityWindowPercent: 40,
  pairCurrentPerHour: 0.06,
  pairsNeeded: 20,
  synchronyCorrelation: 0.5,
  staleShare: 0.2,
  restForDriftS: 4 * 3600,
  driftWindowS: 44 * 3600,
  restForShortDriftS: 2 * 3600,
  shortDriftWindowS: 8 * 3600,
  switchContradictionS: 5,
  balanceCurrentA: 0.05,
  currentGainShare: 0.01,
  drawMovedV: 0.008,
  drawMovedPercent: 0.5,
  drawBornOut: [0.5, 2],
  unloggedDrawPercentPerDay: 3,
  drawSettlesS: 2 * 3600,
  drawLeastS: 4 * 3600,
  unloggedDrawS: 86_400,
  drawSteadyShare: 0.4,
  sparseS: 10,
  loneRows: 5,
  lonePackShare: 0.5,
  loneNeighbourShare: 0.5,
  loneStandsV: 0.1,
  fullWithinV: 0.03,
  taperedPerHour: 0.1,
  channelV: 0.005,
};
