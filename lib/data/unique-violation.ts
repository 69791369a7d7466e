import "server-only";
import { z } from "zod";
import { Prisma } from "@/prisma/generated/client";

/** The unique indexes and keys whose breach somebody is answered for, by their names in the database. */
export const uniqueNames = [
  "AffectedSetEvent_setId_sequence_key",
  "ClassDeclaration_returnId_leg_sequence_key",
  "ClockHoliday_pkey",
  "CostAssumption_one_approved_a_day",
  "Dealer_code_key",
  "EarlierCover_proofId_key",
  "ExchangeRate_currency_into_validFrom_key",
  "FaultCoding_returnId_version_key",
  "Forecast_dataDate_key",
  "HolidayCalendar_one_approved_a_day",
  "HolidayCalendar_version_key",
  "IdentitySettlement_pkey",
  "IncidentEntry_incidentId_sequence_key",
  "Instrument_code_key",
  "LegalDutyConfirmation_fingerprint_key",
  "LegalDutyVersion_one_approved_a_day",
  "LegalDutyVersion_version_key",
  "IssueProposal_one_end_at_a_time",
  "NothingOwed_pkey",
  "PackLoan_one_open_per_pack",
  "PackLoan_one_open_per_return",
  "PackRelease_decisionId_key",
  "PackingCheck_pkey",
  "QuarantineStay_one_open_per_arrival",
  "ReturnDraft_dealerId_clientKey_key",
  "ReturnMove_returnId_sequence_key",
  "ReturnSetting_one_approved_a_day",
  "ReturnSetting_version_key",
  "Return_dealerId_clientKey_key",
  "Return_one_open_per_pack",
  "SettlementLine_dealerId_clientKey_key",
  "SettlementLine_once_per_return",
  "SettlementLine_one_reversal",
  "SettlementRateEnd_kind_country_currency_endsOn_key",
  "SettlementRate_kind_country_currency_validFrom_key",
  "SettlementStatement_paymentReference_key",
  "SignalRound_dataDate_key",
  "SupplierClaim_returnId_lotId_key",
  "TestPlan_one_proposal_a_scope",
  "TestPlan_scope_version_key",
  "TestResult_correctsId_key",
  "ThresholdVersion_one_approved_a_day",
  "ThresholdVersion_one_proposal_a_model",
  "ThresholdVersion_version_key",
  "TrackMove_trackId_sequence_key",
  "Track_one_per_pack",
  "Track_one_remedy_per_return",
  "TransportRuleConfirmation_version_fingerprint_key",
  "TransportRuleVersion_one_approved_a_day",
  "TransportRuleVersion_version_key",
  "UnitReservation_one_open_per_pack",
  "UnitReservation_one_open_per_return",
  "User_email_key",
  "WarrantyPolicy_one_approved_a_day",
  "WarrantyPolicy_version_key",
  "WorkStrike_pkey",
] as const;
export type UniqueName = (typeof uniqueNames)[number];

/** Somebody else opened the same track meanwhile, or wrote the same row of a chain. */
export const writtenMeanwhile = [
  "ReturnMove_returnId_sequence_key",
  "TrackMove_trackId_sequence_key",
  "IncidentEntry_incidentId_sequence_key",
  "Track_one_per_pack",
  "Track_one_remedy_per_return",
] as const satisfies readonly UniqueName[];

/** With a driver adapter nothing is in `meta.target`; what broke lies this deep. */
const metaSchema = z.object({
  driverAdapterError: z.object({
    cause: z.object({
      constraint: z.object({ index: z.string() }).optional().catch(undefined),
      originalMessage: z.string(),
    }),
  }),
});

/**
 * Whether a write broke one of these unique indexes. A server's driver gives the name of the index. That of the embedded database
 * gives only its columns, which several tables have in common; there the name is taken from the sentence of the database, which it
 * always says in English. An integration test provokes every one of them on both.
 */
export function breaksUnique(error: unknown, ...names: readonly UniqueName[]): boolean {
  if (!(error instanceof Prisma.PrismaClientKnownRequestError) || error.code !== "P2002") return false;
  const read = metaSchema.safeParse(error.meta);
  if (!read.success) return false;
  const { constraint, originalMessage } = read.data.driverAdapterError.cause;
  const broken = constraint?.index ?? /unique constraint "([^"]+)"/.exec(originalMessage)?.[1];
  return names.some((name) => name === broken);
}
