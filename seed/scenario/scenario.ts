import type { Role } from "@/lib/access/actor";
import type { Fault } from "@/lib/diagnosis/finding";
import type { PackModel } from "@/lib/packs/pack-model";
import type { Condition } from "@/lib/returns/conditions";
import type { DangerSign } from "@/lib/returns/danger-signs";
import type { ConfirmedFault, DecidableRemedy } from "@/lib/returns/decision.schema";
import type { NoFileReason } from "@/lib/returns/no-file-reasons";
import type { Symptom } from "@/lib/returns/symptoms";
import type { CalendarDate } from "@/lib/warranty/calendar";
import type { SimulatedFault } from "../simulator/simulated-fault";

/**
 * The demo scenario: everything the database of a believable maker would hold on its data date, as plain data.
 *
 * Things refer to each other by the keys people use (model code, revision code, lot code, dealer code, serial, user
 * email, return key). `id` is a stable UUIDv7-shaped identifier of the thing itself, the same on each run.
 * Calendar dates are `YYYY-MM-DD`; instants are ISO 8601 in UTC, ending in `Z`.
 */
export interface Scenario {
  /** Data date: nothing in the scenario happened after it. */
  readonly asOf: CalendarDate;
  readonly models: readonly ScenarioModel[];
  readonly revisions: readonly ScenarioRevision[];
  readonly compatibilities: readonly ScenarioCompatibility[];
  readonly knownIssues: readonly ScenarioKnownIssue[];
  readonly lots: readonly ScenarioLot[];
  readonly dealers: readonly ScenarioDealer[];
  readonly users: readonly ScenarioUser[];
  readonly packs: readonly ScenarioPack[];
  readonly sales: readonly ScenarioSale[];
  readonly returns: readonly ScenarioReturn[];
  readonly replacements: readonly ScenarioReplacement[];
}

export interface ScenarioModel {
  readonly id: string;
  /** Two letters, the first two characters of every serial of the model. */
  readonly code: string;
  readonly name: string;
  readonly chemistry: string;
  readonly nominalV: number;
  readonly energyWh: number;
  readonly massKg: number;
  readonly model: PackModel;
}

export interface ScenarioChange {
  /** What was changed, e.g. "Cell supplier". */
  readonly what: string;
  readonly why: string;
}

export interface ScenarioRevision {
  readonly id: string;
  /** e.g. "GW-C": model code and a letter. */
  readonly code: string;
  readonly modelCode: string;
  /** From 1 within the model. */
  readonly order: number;
  readonly introducedOn: CalendarDate;
  readonly supersededOn: CalendarDate | null;
  readonly changes: readonly ScenarioChange[];
  readonly potted: boolean;
  /** True where single series groups can be exchanged on the bench. */
  readonly cellsRepairable: boolean;
  readonly boardHardware: string;
  readonly firmware: string;
  readonly testSummaryReference: string;
}

/** The revision that may be sent out in place of another. */
export interface ScenarioCompatibility {
  readonly oldRevisionCode: string;
  readonly newRevisionCode: string;
  readonly note: string;
}

export interface ScenarioKnownIssue {
  readonly id: string;
  readonly title: string;
  /** At least one of the two is set. */
  readonly revisionCode: string | null;
  readonly lotCode: string | null;
  readonly faults: readonly Fault[];
  readonly action: string;
  readonly suggestedRemedy: DecidableRemedy;
  readonly openedOn: CalendarDate;
  readonly closedOn: CalendarDate | null;
  readonly stopShip: boolean;
}

export type ScenarioLotKind = "cell" | "joining" | "potting" | "board";

export interface ScenarioLot {
  readonly id: string;
  readonly code: string;
  readonly kind: ScenarioLotKind;
  readonly supplierCode: string;
  readonly receivedOn: CalendarDate;
}

export interface ScenarioDealer {
  readonly id: string;
  readonly code: string;
  readonly name: string;
  readonly town: string;
  /** ISO 3166-1 alpha-2. */
  readonly country: string;
  /** IANA zone of the place of sale. */
  readonly zone: string;
  /** First day on which this dealer's sales and returns reach the maker. */
  readonly joinedOn: CalendarDate;
  /** First day on which the dealer sold the maker's packs: earlier than `joinedOn` for the one that joined late. */
  readonly sellingSince: CalendarDate;
}

export interface ScenarioUser {
  readonly id: string;
  readonly email: string;
  readonly name: string;
  readonly role: Role;
  /** Set for the roles of a dealer only. */
  readonly dealerCode: string | null;
}

export interface ScenarioBuildRecord {
  readonly capacityAh: number;
  readonly loadTestCurrentA: number;
  readonly loadTestSagV: number;
  /** One entry a series group, group 1 first. */
  readonly groupResistanceMilliohm: readonly number[];
  readonly cellMatchingSpreadMv: number;
  readonly insulationMegaohm: number;
  /** Largest gap to a straight-edge. */
  readonly caseGapMillimetre: number;
  readonly boardIdentity: string;
  readonly firmware: string;
  readonly vibrationPassed: boolean;
  /** What was released although it missed a limit, in a sentence; null for almost all. */
  readonly concession: string | null;
}

export interface ScenarioPack {
  readonly id: string;
  readonly serial: string;
  /** The serial it bears in the story as written; chance hangs on it. */
  readonly storySerial: string;
  readonly revisionCode: string;
  readonly builtOn: CalendarDate;
  /** Null while the pack still lies in the maker's own store. */
  readonly dispatchedOn: CalendarDate | null;
  /** The dealer it was dispatched to; null while in the maker's own store. */
  readonly dealerCode: string | null;
  /** Codes of the lots built in, at most one of each kind. */
  readonly lotCodes: readonly string[];
  readonly build: ScenarioBuildRecord;
}

/** `proof-of-purchase` is the best evidence, `stated-at-complaint` the weakest. */
export type ScenarioEvidence = "proof-of-purchase" | "dealer-registration" | "stated-at-complaint";

export interface ScenarioSale {
  readonly id: string;
  readonly serial: string;
  readonly dealerCode: string;
  /** Calendar date at the place of sale. */
  readonly soldOn: CalendarDate;
  readonly zone: string;
  readonly evidence: ScenarioEvidence;
  readonly buyerKind: "consumer" | "business";
  /** Failures before this date could not have been reported: delayed entry. Equal to `soldOn` for almost all. */
  readonly underObservationFrom: CalendarDate;
}

export interface ScenarioDecision {
  readonly remedy: DecidableRemedy;
  readonly confirmedFault: ConfirmedFault;
  /** True where the pack did fail; false for no fault found, settings and outside causes. */
  readonly confirmedFailure: boolean;
  readonly reason: string;
  readonly decidedAt: string;
  /** Email of a technician or service lead. */
  readonly decidedBy: string;
  /** Set exactly where the remedy is "replace". */
  readonly replacementRevisionCode: string | null;
}

export type ScenarioReturnState = "sent-in" | "in-review" | "decided";

export interface ScenarioReturn {
  readonly id: string;
  /** Stable running number, oldest first: "0001" and so on. */
  readonly key: string;
  /** As people say it, with its check character: R-26-00417-S. */
  readonly reference: string;
  readonly serial: string;
  readonly dealerCode: string;
  readonly noticedOn: CalendarDate;
  /** Instant at which the customer told the dealer, and its calendar date at the place of sale. */
  readonly toldAt: string;
  readonly toldOn: CalendarDate;
  readonly lodgedAt: string;
  /** Email of the dealer's user; null where that dealer has no login in the demo. */
  readonly lodgedBy: string | null;
  /** The customer's own words, in the customer's own language. */
  readonly concern: string;
  readonly language: string;
  readonly symptom: Symptom;
  readonly conditions: readonly Condition[];
  /** Empty stands for "none of these". */
  readonly dangerSigns: readonly DangerSign[];
  readonly state: ScenarioReturnState;
  /** Instant at which service took it up; null while "sent-in". */
  readonly reviewStartedAt: string | null;
  /** Email of the service user who took it up. */
  readonly reviewedBy: string | null;
  readonly decision: ScenarioDecision | null;
  readonly readings: ScenarioReadings | null;
  /** Set exactly where there is no readings file. */
  readonly noFileReason: NoFileReason | null;
  /** What is really wrong with the pack: for checking the diagnosis, never loaded into the database. */
  readonly trueFault: Fault;
}

export interface ScenarioReadings {
  readonly fileName: string;
  readonly truth: SimulatedFault;
  /** Simulates and renders the file anew on each call, always the same bytes. */
  readonly csv: () => string;
}

/** The new pack is a unit of its own with age 0 at delivery; it has no sale and inherits the cover of the old one. */
export interface ScenarioReplacement {
  readonly id: string;
  readonly returnKey: string;
  readonly oldSerial: string;
  readonly newSerial: string;
  readonly deliveredOn: CalendarDate;
}
