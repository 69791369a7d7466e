import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { packCapacities } from "@/lib/diagnosis/built-beside-found";
import type { Fault } from "@/lib/diagnosis/finding";
import { keptMeasurements } from "@/lib/diagnosis/kept-measurements";
import { readStoredFault } from "@/lib/diagnosis/stored-finding";
import { inPrint } from "@/lib/diagnosis/wording";
import { datesToTell } from "@/lib/letters/dates-to-tell";
import { decisionLetter } from "@/lib/letters/decision-letter";
import { findingLetter } from "@/lib/letters/finding-letter";
import type { LetterFacts, LetterOutcome } from "@/lib/letters/letter";
import { letterDecisionOf } from "@/lib/letters/letter-decision";
import { letterWords } from "@/lib/letters/letter-words";
import { type TestTold, tellTest } from "@/lib/letters/tell-test";
import { type NoticeLanguage, noticeLanguageOf } from "@/lib/notices/notice-kinds";
import { readDecidedRemedy } from "@/lib/returns/decision.schema";
import { refundOwed } from "@/lib/returns/refund-owed";
import { readReturnReference } from "@/lib/returns/return-reference";
import { lastDayOf, type ReturnSettings } from "@/lib/returns/return-settings.schema";
import { decisionStands, readReturnStatus } from "@/lib/returns/return-status";
import { lastDayToObject } from "@/lib/returns/told-periods";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { readCoverOutcome } from "@/lib/warranty/cover";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { readTestsToTell } from "../bench-tests/tests-to-tell";
import { fromDateColumn, fromOptionalDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import { type RefundPayment, readRefundsPaid } from "../money/refund-payments";
import { shownSerial } from "../packs/pack-words";
import { readReturnSettings } from "../returns/return-settings";
import { loadStanding } from "../returns/return-standing";

export type LetterKind = "decision-letter" | "finding-letter";

export interface LetterToPrint {
  readonly reference: string;
  readonly language: NoticeLanguage;
  readonly outcome: LetterOutcome | { readonly kind: "undecided"; readonly sentence: string };
}

const letterSelect = {
  id: true,
  reference: true,
  status: true,
  concern: true,
  toldOn: true,
  coverOutcome: true,
  coverStartsOn: true,
  coverEndsOn: true,
  coverEvidence: true,
  dealer: { select: { country: true, timeZone: true } },
  pack: { select: { serial: true, revision: { select: { model: { select: { ratedCapacityAh: true } } } } } },
  decision: {
    select: {
      remedy: true,
      confirmedFault: true,
      reason: true,
      isGoodwill: true,
      refundMinor: true,
      refundCurrency: true,
      refusalTerm: true,
      refusalEvidence: true,
      refusalAlternatives: true,
      comesBack: true,
      comesBackWhat: true,
      comesBackBy: true,
      decidedAt: true,
    },
  },
  readingFile: {
    select: {
      fileName: true,
      uploadedAt: true,
      findings: {
        select: { fault: true, groups: true, confidence: true, evidenceFor: true },
        orderBy: { rank: "asc" },
      },
      suggestion: { select: { ruleVersion: true } },
      measurements: {
        select: { name: true, group: true, value: true, unit: true, uncertainty: true, method: true, conditions: true },
        where: { name: { contains: "capacity" } },
      },
    },
  },
} as const;

/**
 * A letter of a return, built from its evidence, in the language asked for or the usual one of the dealer's country. Null
 * where there is no such return for this person.
 */
export async function readLetter(
  actor: Actor,
  typedReference: string,
  kind: LetterKind,
  asked: NoticeLanguage | null,
): Promise<LetterToPrint | null> {
  const reading = readReturnReference(typedReference);
  const mayRead = may(actor, "read-build-record") || may(actor, "read-own-returns");
  if (reading.kind !== "reference" || !mayRead) return null;
  const found = await asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: letterSelect });
    if (row === null) return null;
    const paid = await readRefundsPaid(tx, row.id);
    const settings = await readReturnSettings(tx, row.decision?.decidedAt ?? new Date(), row.dealer.timeZone);
    return { row, paid, settings, objectUntil: await readLastDayToObject(tx, row.reference) };
  });
  if (found === null) return null;
  const { row, paid, settings, objectUntil } = found;
  // As the system: what was measured on a pack a dealer's customer is told in a letter, though the dealer reads no test plan.
  const tests = await asSystem((tx) => readTestsToTell(tx, row.id));
  const language = asked ?? noticeLanguageOf(null, row.dealer.country);
  const outcome =
    kind === "finding-letter"
      ? ({ kind: "letter", letter: findingLetter(foundOn(row, tests, language)) } as const)
      : decidedOn(row, tests, paid, language, settings, objectUntil);
  return { reference: row.reference, language, outcome };
}

async function readLastDayToObject(tx: Transaction, reference: string): Promise<CalendarDate | null> {
  const loaded = await loadStanding(tx, reference, new Date());
  return loaded === null ? null : lastDayToObject(loaded.standing.past, loaded.standing.told, loaded.standing.timeZone);
}

interface LetterRow {
  readonly reference: string;
  readonly status: string;
  readonly concern: string;
  readonly toldOn: Date;
  readonly coverOutcome: string;
  readonly coverStartsOn: Date | null;
  readonly coverEndsOn: Date | null;
  readonly coverEvidence: string | null;
  readonly dealer: { readonly country: string; readonly timeZone: string };
  readonly pack: {
    readonly serial: string;
    readonly revision: { readonly model: { readonly ratedCapacityAh: number } };
  };
  readonly decision: {
    readonly remedy: string;
    readonly confirmedFault: string;
    readonly reason: string;
    readonly isGoodwill: boolean;
    readonly refundMinor: number | null;
    readonly refundCurrency: string | null;
    readonly refusalTerm: string | null;
    readonly refusalEvidence: string | null;
    readonly refusalAlternatives: string | null;
    readonly comesBack: string | null;
    readonly comesBackWhat: string | null;
    readonly comesBackBy: Date | null;
    readonly decidedAt: Date;
  } | null;
  readonly readingFile: {
    readonly fileName: string;
    readonly uploadedAt: Date;
    readonly findings: readonly {
      readonly fault: string;
      readonly groups: readonly number[];
      readonly confidence: number;
      readonly evidenceFor: readonly string[];
    }[];
    readonly suggestion: { readonly ruleVersion: string } | null;
    readonly measurements: Parameters<typeof packCapacities>[0];
  } | null;
}

function decidedOn(
  row: LetterRow,
  tests: readonly TestTold[],
  paid: readonly RefundPayment[],
  language: NoticeLanguage,
  settings: Pick<ReturnSettings, "objectionDays" | "solvedReopenDays">,
  objectUntil: CalendarDate | null,
): LetterToPrint["outcome"] {
  const { decision } = row;
  const status = readReturnStatus(row.status);
  const remedy = readDecidedRemedy(decision?.remedy ?? null);
  const told = remedy === null || decision === null ? null : letterDecisionOf(remedy, decision.confirmedFault);
  if (decision === null || told === null)
    return { kind: "undecided", sentence: "Nothing is decided yet that could be written to the customer." };
  // The customer keeps the letter of the first decision; while it is looked at anew nobody prints it as if it stood.
  if (!decisionStands(status))
    return {
      kind: "undecided",
      sentence: "What was decided is being looked at anew: no letter is written before that is done.",
    };
  const outcome = readCoverOutcome(row.coverOutcome);
  const day = civilDateAt(decision.decidedAt, row.dealer.timeZone);
  const confirmed = readStoredFault(decision.confirmedFault);
  return decisionLetter({
    language,
    reference: row.reference,
    serialShown: shownSerial(row.pack.serial),
    decidedOn: day,
    decision: told,
    refund: refundOf(decision, paid),
    isGoodwill: decision.isGoodwill,
    concern: row.concern,
    toldOn: fromDateColumn(row.toldOn),
    cover: {
      outcome,
      ...datesToTell({
        outcome,
        evidence: row.coverEvidence,
        startsOn: fromOptionalDateColumn(row.coverStartsOn),
        endsOn: fromOptionalDateColumn(row.coverEndsOn),
      }),
    },
    faults: confirmed === null ? [] : [confirmed],
    evidence: [
      ...(decision.refusalEvidence === null ? [] : [decision.refusalEvidence]),
      ...testsThatSpeak(tests, confirmed).map((test) => tellTest(language, test)),
    ],
    readings: decision.refusalEvidence === null ? evidenceFor(row, confirmed) : [],
    reason: decision.reason,
    term: decision.refusalTerm,
    alternatives: decision.refusalAlternatives === null ? [] : [decision.refusalAlternatives],
    comesBack:
      decision.comesBack === null || decision.comesBackWhat === null
        ? null
        : { by: fromOptionalDateColumn(decision.comesBackBy), words: decision.comesBack },
    objection: {
      // What was put right at the counter the customer saw there; anything else is learned from this letter.
      until:
        status === "solved-remotely"
          ? lastDayOf(decision.decidedAt, settings.solvedReopenDays, row.dealer.timeZone)
          : objectUntil,
      days: settings.objectionDays,
      how: letterWords[language].howToObject,
    },
  });
}

/** The amount of a refund, and what was paid of it before it was decided so; null for anything else. */
function refundOf(
  { remedy, refundMinor: minor, refundCurrency: currency, decidedAt }: NonNullable<LetterRow["decision"]>,
  paid: readonly RefundPayment[],
): LetterFacts["refund"] {
  if (remedy !== "refund" || minor === null || currency === null) return null;
  const owed = refundOwed(
    { minor, currency },
    paid.filter(({ at }) => at < decidedAt),
  );
  return { minor, currency, paidBeforeMinor: owed.kind === "owed" ? owed.paidMinor : 0 };
}

/** The readings that speak for the fault that was confirmed; none where they spoke for another. */
function evidenceFor({ readingFile }: LetterRow, confirmed: Fault | null): string[] {
  return (readingFile?.findings.find(({ fault }) => fault === confirmed)?.evidenceFor ?? []).map(inPrint);
}

/** What was measured at the bench and bears on the decision: where no fault was found every test, else those that failed. */
function testsThatSpeak(tests: readonly TestTold[], confirmed: Fault | null): TestTold[] {
  return tests.filter(({ verdict, isInDoubt }) =>
    confirmed === "no-fault-found" ? verdict === "inside" && !isInDoubt : verdict === "outside" && !isInDoubt,
  );
}

function foundOn(
  row: LetterRow,
  tests: readonly TestTold[],
  language: NoticeLanguage,
): Parameters<typeof findingLetter>[0] {
  const { readingFile, decision, pack, dealer } = row;
  const [capacity] = packCapacities(
    keptMeasurements(readingFile?.measurements ?? [], readingFile?.suggestion?.ruleVersion ?? null),
  );
  return {
    language,
    reference: row.reference,
    serialShown: shownSerial(pack.serial),
    concern: row.concern,
    toldOn: fromDateColumn(row.toldOn),
    file:
      readingFile === null
        ? null
        : { name: readingFile.fileName, takenOn: civilDateAt(readingFile.uploadedAt, dealer.timeZone) },
    findings: (readingFile?.findings ?? []).flatMap(({ fault, evidenceFor: readings, ...finding }) => {
      const known = readStoredFault(fault);
      return known === null ? [] : [{ ...finding, fault: known, readings }];
    }),
    capacity: capacity === undefined ? null : { foundAh: capacity.value, ratedAh: pack.revision.model.ratedCapacityAh },
    tests,
    confirmedFault: decision === null ? null : (readStoredFault(decision.confirmedFault) ?? "unknown"),
  };
}
