/** What a monitoring board logged, column-wise, in SI units with current positive when charging. NaN: not logged. */
export interface SimulatedLog {
  readonly serial: string;
  readonly startUnixS: number;
  readonly timeS: readonly number[];
  readonly packV: readonly number[];
  readonly currentA: readonly number[];
  /** One column a series group, group 1 first. */
  readonly cellV: readonly (readonly number[])[];
  readonly probeC: readonly (readonly number[])[];
  readonly stageC: readonly number[];
  readonly socPercent: readonly number[];
  readonly cycleCount: number;
  readonly chargeSwitch: readonly number[];
  readonly dischargeSwitch: readonly number[];
  /** Bit k-1 set while group k is being balanced. */
  readonly balancingMask: readonly number[];
  readonly protectionFlags: readonly number[];
  /** Rows before which the board's clock fell back to zero. */
  readonly clockResetRows: readonly number[];
}
