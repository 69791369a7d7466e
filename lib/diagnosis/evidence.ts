import type { DiagnosisSettings } from "@/lib/diagnosis/diagnosis-settings";
import type { PackModel } from "@/lib/packs/pack-model";
import type { AbuseEvents } from "@/lib/readings/measure/abuse-events";
import type { AcuteSign } from "@/lib/readings/measure/acute-sign";
import type { CapacityBetweenRests } from "@/lib/readings/measure/capacity-between-rests";
import type { DischargeCapacity } from "@/lib/readings/measure/discharge-capacity";
import type { FrozenLogRun } from "@/lib/readings/measure/frozen-log";
import type { FrozenRun } from "@/lib/readings/measure/frozen-values";
import type { GroupResistanceResult } from "@/lib/readings/measure/group-resistance";
import type { GroupStateFit } from "@/lib/readings/measure/group-state-fit";
import type { NearZeroGroup } from "@/lib/readings/measure/near-zero-groups";
import type { OpenCircuitCurve } from "@/lib/readings/measure/open-circuit";
import type { PackSum } from "@/lib/readings/measure/pack-sum";
import type { RaisedFlag, RaisedWords } from "@/lib/readings/measure/raised-flags";
import type { ReadingShift } from "@/lib/readings/measure/reading-shifts";
import type { ReferenceCharge } from "@/lib/readings/measure/reference-charge";
import type { DrawnDrift, RestDrift } from "@/lib/readings/measure/rest-drift";
import type { RestOffset } from "@/lib/readings/measure/rest-offsets";
import type { RowSurvey } from "@/lib/readings/measure/row-survey";
import type { StillWarming } from "@/lib/readings/measure/self-heating";
import type { Spread } from "@/lib/readings/measure/spread-by-situation";
import type { StandingReading } from "@/lib/readings/measure/standing-readings";
import type { SwitchFault } from "@/lib/readings/measure/switch-logic";
import type { TapError } from "@/lib/readings/measure/tap-errors";
import type { ProbeFault } from "@/lib/readings/measure/temperature-probes";
import type { UnfollowedFall } from "@/lib/readings/measure/unfollowed-fall";
import type { ReadingFileSummary } from "@/lib/readings/reading-log";

/** Everything measured from one log, in the order it was worked out. Rules read it and measure nothing themselves. */
export interface Evidence {
  readonly model: PackModel;
  readonly summary: ReadingFileSummary;
  readonly settings: DiagnosisSettings;
  /** From the raw rows of the whole log. */
  readonly acute: readonly AcuteSign[];
  /** Probes that still warm at rest where the log ends. */
  readonly stillWarming: readonly StillWarming[];
  /** Falls of the pack voltage at rest that the groups do not follow. */
  readonly unfollowedFalls: readonly UnfollowedFall[];
  /** The rows before the first acute sign: after it, nothing measured is a state of the pack. */
  readonly survey: RowSurvey;
  readonly sum: PackSum;
  readonly taps: readonly TapError[];
  readonly probeFaults: readonly ProbeFault[];
  /** The probe on the switches gives what is no temperature. */
  readonly switchProbe: ProbeFault | null;
  readonly frozen: readonly FrozenRun[];
  /** Rows in which the whole log stands still; they are void in `survey`. */
  readonly frozenLog: readonly FrozenLogRun[];
  readonly shifts: readonly ReadingShift[];
  /** Readings off by the same volts at every charge, where neither a tap nor a shift above tells of them. */
  readonly standing: readonly StandingReading[];
  /** Protection flags the monitor raised. */
  readonly flags: readonly RaisedFlag[];
  /** Flags it raised whose meaning nobody knows; null without any. */
  readonly otherFlags: RaisedWords | null;
  /** Groups whose readings are void because of a measurement fault: no verdict on their cells. */
  readonly doubtfulGroups: ReadonlySet<number>;
  /** From the raw rows of the whole log; groups of an acute sign are left to it. */
  readonly nearZero: readonly NearZeroGroup[];
  readonly resistance: GroupResistanceResult;
  readonly stepCorrelation: number | null;
  /** The same of the sum of the groups: low where only some of them were sampled late. */
  readonly sumCorrelation: number | null;
  readonly curve: OpenCircuitCurve | null;
  readonly charge: ReferenceCharge | null;
  readonly states: GroupStateFit | null;
  readonly restCapacity: CapacityBetweenRests | null;
  readonly restOffsets: readonly (RestOffset | null)[] | null;
  readonly fullDischarge: DischargeCapacity | null;
  /** After 4 h of rest and over 44 h and more; and over a shorter rest, for strong leaks only. */
  readonly drift: RestDrift | null;
  readonly shortDrift: RestDrift | null;
  /** Each of the shorter rests alone, where there are several. */
  readonly restDrifts: readonly RestDrift[];
  /** Rests long enough for a strong leak at least through which a current flowed. */
  readonly drawnDrifts: readonly DrawnDrift[];
  readonly spreads: readonly Spread[];
  readonly abuse: readonly AbuseEvents[];
  readonly switches: readonly SwitchFault[];
  readonly largestLoadA: number;
  /** False where current flows and nobody knows which way it counts: nothing here rests on its direction then. */
  readonly directionKnown: boolean;
  /** Line of a row of the whole log in the original file. */
  lineOfRow(row: number): number;
}
