import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { calibrationStanding } from "@/lib/bench-tests/calibration";
import { builtBeside, readingsBeside } from "@/lib/bench-tests/shown-beside";
import type { TestDefinition } from "@/lib/bench-tests/test-definition.schema";
import { openMandatory, type TestState } from "@/lib/bench-tests/test-standing";
import { type BenchFacts, testStops, whatStopsTest } from "@/lib/bench-tests/what-stops-a-test";
import { keptMeasurements } from "@/lib/diagnosis/kept-measurements";
import { readReturnReference } from "@/lib/returns/return-reference";
import type { ReturnStatus } from "@/lib/returns/return-status";
import type { SafetyState } from "@/lib/returns/safety-track";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asActor, type Transaction } from "../database";
import { shownSerial } from "../packs/pack-words";
import { loadStanding } from "../returns/return-standing";
import { readBenchStanding } from "./bench-facts";
import { beganAt } from "./bench-tests";
import { type CodingPart, readCodingPart } from "./coding-part";
import { readDoubts } from "./doubtful-results";
import { BENCH_ZONE, readInstruments } from "./instruments";
import { type NoFaultPart, readNoFaultPart } from "./no-fault-part";
import { readSimilarReturns, type SimilarReturns } from "./similar-returns";

export interface ResultView {
  readonly id: string;
  readonly value: number | null;
  readonly unit: string | null;
  readonly expandedUncertainty: number | null;
  readonly lower: number | null;
  readonly upper: number | null;
  readonly seen: string | null;
  readonly verdict: string;
  readonly instrumentCode: string | null;
  readonly ambientC: number | null;
  readonly note: string;
  readonly leaveToDestroy: string | null;
  /** A later entry stands for it. */
  readonly isCorrected: boolean;
  readonly isCorrection: boolean;
  readonly isEarlierRound: boolean;
  /** Why it is in doubt since its instrument was looked at again; null where it is not. */
  readonly doubt: string | null;
  readonly byName: string;
  readonly at: Date;
}

export interface InstrumentChoice {
  readonly code: string;
  readonly kind: string;
  readonly description: string;
  /** Why it may not be used today; null where it may. */
  readonly whyNot: string | null;
}

export interface BenchTestView {
  readonly test: TestDefinition;
  readonly state: TestState;
  /** Why it is not to be made now; null where it may be. */
  readonly stop: string | null;
  readonly results: readonly ResultView[];
  readonly waivers: readonly { readonly why: string; readonly byName: string; readonly at: Date }[];
  readonly built: string | null;
  readonly readings: readonly string[];
}

export interface BenchTestPage {
  readonly reference: string;
  readonly serialShown: string;
  readonly modelName: string;
  readonly revisionCode: string;
  readonly status: ReturnStatus | null;
  readonly handledAs: SafetyState;
  readonly isOnHold: boolean;
  readonly concern: string;
  readonly plan: {
    readonly id: string;
    readonly scope: string;
    readonly version: number;
    readonly settledAt: Date;
  } | null;
  readonly tests: readonly BenchTestView[];
  readonly openTitles: readonly string[];
  readonly instruments: readonly InstrumentChoice[];
  readonly coding: CodingPart;
  readonly noFault: NoFaultPart;
  readonly similar: SimilarReturns;
}

const pageSelect = {
  concern: true,
  pack: {
    select: {
      serial: true,
      revision: { select: { code: true, model: { select: { name: true } } } },
      build: true,
    },
  },
  readingFile: {
    select: {
      suggestion: { select: { ruleVersion: true } },
      measurements: {
        select: { name: true, group: true, value: true, unit: true, uncertainty: true },
        orderBy: [{ name: "asc" as const }, { group: "asc" as const }],
      },
    },
  },
};

/** The tests of one return with all that belongs beside them; null where there is none or the person may not see it. */
export async function readBenchTests(
  actor: Actor,
  typedReference: string,
  now = new Date(),
): Promise<BenchTestPage | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const loaded = await loadStanding(tx, reading.reference, now);
    if (loaded === null) return null;
    const { standing } = loaded;
    const row = await tx.return.findUniqueOrThrow({ where: { id: loaded.row.id }, select: pageSelect });
    const { plan, facts } = await readBenchStanding(tx, loaded, now);
    const tests = plan === null ? [] : await viewTests(tx, loaded.row.id, facts, beganAt(loaded), row);
    return {
      reference: reading.reference,
      serialShown: shownSerial(row.pack.serial),
      modelName: row.pack.revision.model.name,
      revisionCode: row.pack.revision.code,
      status: standing.status,
      handledAs: standing.safety,
      isOnHold: standing.isOnHold,
      concern: row.concern,
      plan: plan === null ? null : { id: plan.id, scope: plan.scope, version: plan.version, settledAt: plan.settledAt },
      tests,
      openTitles: openMandatory(tests).map(({ title }) => title),
      instruments: await readInstrumentChoices(tx, now),
      coding: await readCodingPart(tx, loaded.row.id, beganAt(loaded)),
      noFault: await readNoFaultPart(tx, loaded, facts, now),
      similar: await readSimilarReturns(tx, loaded.row.id, now),
    };
  });
}

type PageRow = {
  readonly pack: { readonly build: Parameters<typeof builtBeside>[1] };
  readonly readingFile: {
    readonly suggestion: { readonly ruleVersion: string } | null;
    readonly measurements: Parameters<typeof readingsBeside>[1];
  } | null;
};

async function viewTests(
  tx: Transaction,
  returnId: string,
  facts: BenchFacts,
  since: Date | null,
  { pack, readingFile }: PageRow,
): Promise<BenchTestView[]> {
  const results = await readResults(tx, returnId, since);
  const waivers = await tx.testWaiver.findMany({ where: { returnId }, orderBy: { at: "asc" } });
  const measured = keptMeasurements(readingFile?.measurements ?? [], readingFile?.suggestion?.ruleVersion ?? null);
  return facts.standings.map(({ test, state }) => {
    const stop = whatStopsTest(test, facts);
    return {
      test,
      state,
      stop: stop === null ? null : testStops[stop],
      results: results.filter(({ testKey }) => testKey === test.key),
      waivers: waivers
        .filter(({ testKey }) => testKey === test.key)
        .map(({ why, byName, at }) => ({ why, byName, at })),
      built: builtBeside(test.key, pack.build),
      readings: readingsBeside(test.beside, measured),
    };
  });
}

/** Everything written down, newest first, with what became of it. Results after work on the pack stand with the repair. */
async function readResults(tx: Transaction, returnId: string, since: Date | null) {
  const rows = await tx.testResult.findMany({
    where: { returnId, purpose: "finding" },
    orderBy: [{ at: "desc" }, { id: "desc" }],
    include: {
      correctedBy: { select: { id: true } },
      calibration: { select: { instrument: { select: { code: true } } } },
    },
  });
  const doubts = await readDoubts(tx);
  return rows.map((row): ResultView & { readonly testKey: string } => ({
    id: row.id,
    testKey: row.testKey,
    value: row.value,
    unit: row.unit,
    expandedUncertainty: row.expandedUncertainty,
    lower: row.lower,
    upper: row.upper,
    seen: row.seen,
    verdict: row.verdict,
    instrumentCode: row.calibration?.instrument.code ?? null,
    ambientC: row.ambientC,
    note: row.note,
    leaveToDestroy: row.leaveToDestroy,
    isCorrected: row.correctedBy !== null,
    isCorrection: row.correctsId !== null,
    isEarlierRound: since !== null && row.at < since,
    doubt: row.calibrationId === null ? null : (doubts.get(row.calibrationId)?.sentence ?? null),
    byName: row.byName,
    at: row.at,
  }));
}

/** Instruments to choose from, those that may not be used today too: their refusal says why. */
export async function readInstrumentChoices(tx: Transaction, now: Date): Promise<InstrumentChoice[]> {
  const today = civilDateAt(now, BENCH_ZONE);
  return (await readInstruments(tx)).map(({ code, kind, description, calibrations }) => {
    const standing = calibrationStanding(code, calibrations, today);
    return { code, kind, description, whyNot: standing.kind === "usable" ? null : standing.sentence };
  });
}
