import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { Finding } from "@/lib/diagnosis/finding";
import type { HealthyPopulation } from "@/lib/diagnosis/healthy-population";
import { keptMeasurements } from "@/lib/diagnosis/kept-measurements";
import { settingsForModel } from "@/lib/diagnosis/settings-for-model";
import type { VerdictThresholds } from "@/lib/diagnosis/verdict-thresholds";
import { modelThresholdsSchema } from "@/lib/packs/pack-model";
import { asMaintained, changesBy, type PackChange } from "@/lib/repair/as-maintained";
import { readReturnReference } from "@/lib/returns/return-reference";
import { isSetApart } from "@/lib/returns/safety-track";
import type { SuggestionShown } from "@/lib/returns/suggestion-under-danger";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn } from "../calendar-columns";
import { asActor } from "../database";
import { readPackChanges } from "../packs/pack-changes";
import { type BenchRevisionCheck, checkReturnedPack } from "../packs/revision-checks";
import { readHealthyPopulation } from "../readings/healthy-packs";
import { readSuggestionThatStands } from "../readings/suggestion-that-stands";
import { readLegalDuties } from "../warranty/legal-duties-held";
import { type NextSteps, readNextSteps } from "./next-steps";
import { type ReturnView, returnView, returnViewSelect } from "./returns";

export interface BenchReturn extends ReturnView {
  readonly takenByName: string | null;
  readonly dealer: {
    readonly name: string;
    readonly town: string;
    readonly country: string;
    readonly timeZone: string;
  };
  readonly changes: readonly { readonly what: string; readonly why: string }[];
  readonly potted: boolean;
  readonly cellsRepairable: boolean;
  readonly lots: readonly { readonly kind: string; readonly code: string; readonly supplier: string }[];
  /** As it was written at the end of the line. */
  readonly build: BuildView | null;
  /** Work done on the pack since, oldest first. */
  readonly packChanges: readonly PackChange[];
  /** The build record with that work laid over it: the pack as it is now. */
  readonly maintained: BuildView | null;
  /** The same with the work done before the readings were sent in: what they are held against. */
  readonly whenRead: BuildView | null;
  /** Sound packs of the same revision, to stand beside what was found in this one. */
  readonly population: HealthyPopulation;
  readonly cyclesTo80Percent: number;
  /** What is known of the file beyond what it shows; null where none was sent. */
  readonly file: {
    readonly currentSign: string;
    readonly startedAt: Date | null;
    readonly spanSeconds: number;
    readonly uploadedAt: Date;
    readonly parserVersion: string;
  } | null;
  readonly traces: unknown;
  readonly measurements: readonly MeasurementView[];
  /** Ratio to the middle group from which a resistance can be high, by the thresholds the file was judged by. */
  readonly highRatio: number;
  readonly check: BenchRevisionCheck;
  readonly earlier: readonly { readonly reference: string; readonly toldOn: string; readonly remedy: string | null }[];
  /** Straight-edge readings of the case, newest first. */
  readonly caseReadings: readonly {
    readonly gapMillimetre: number;
    readonly readByName: string;
    readonly readAt: Date;
  }[];
  /** What they come to and nobody has judged yet; null where they say nothing. */
  readonly caseFinding: Finding | null;
  /** What is suggested, by the readings and by what was found in hand and on the case. */
  readonly suggestion: SuggestionShown | null;
  /** The pack is set apart, or graver, and nobody has lowered that. */
  readonly safetyOpen: boolean;
  readonly next: NextSteps;
}

function fileFacts({
  currentSign,
  startedAt,
  spanSeconds,
  uploadedAt,
  parserVersion,
}: NonNullable<BenchReturn["file"]>) {
  return { currentSign, startedAt, spanSeconds, uploadedAt, parserVersion };
}

export interface BuildView {
  readonly capacityAh: number;
  readonly loadTestCurrentA: number;
  readonly loadTestSagV: number;
  readonly groupResistanceMilliohm: readonly number[];
  readonly matchingSpreadMillivolt: number;
  readonly insulationMegaohm: number;
  readonly caseGapMillimetre: number | null;
  readonly vibrationPassed: boolean;
  readonly boardIdentity: string;
  readonly firmware: string;
  readonly concession: string | null;
}

export interface MeasurementView {
  readonly name: string;
  readonly group: number | null;
  readonly value: number;
  readonly unit: string;
  readonly uncertainty: number | null;
  readonly method: string;
  readonly conditions: string;
}

const benchSelect = {
  ...returnViewSelect,
  id: true,
  packId: true,
  takenByName: true,
  dealer: { select: { name: true, town: true, country: true, timeZone: true } },
  caseReadings: {
    select: { gapMillimetre: true, readByName: true, readAt: true },
    orderBy: { readAt: "desc" },
  },
  pack: {
    select: {
      ...returnViewSelect.pack.select,
      revision: {
        select: {
          ...returnViewSelect.pack.select.revision.select,
          id: true,
          potted: true,
          cellsRepairable: true,
          model: {
            select: { ...returnViewSelect.pack.select.revision.select.model.select, cyclesTo80Percent: true },
          },
        },
      },
      lots: { where: { removedOn: null }, select: { lot: { select: { kind: true, code: true, supplier: true } } } },
      build: true,
      returns: {
        select: {
          reference: true,
          toldOn: true,
          decision: { select: { remedy: true } },
        },
        orderBy: { toldOn: "asc" },
      },
    },
  },
  readingFile: {
    select: {
      ...returnViewSelect.readingFile.select,
      suggestion: { select: { ...returnViewSelect.readingFile.select.suggestion.select, thresholds: true } },
      currentSign: true,
      startedAt: true,
      spanSeconds: true,
      uploadedAt: true,
      parserVersion: true,
      traces: true,
      measurements: {
        select: { name: true, group: true, value: true, unit: true, uncertainty: true, method: true, conditions: true },
        orderBy: [{ name: "asc" }, { group: "asc" }],
      },
    },
  },
} as const satisfies Prisma.ReturnSelect;

/** Everything the bench needs of one return; null where there is none or the person may not see it. */
export async function readBenchReturn(actor: Actor, typedReference: string): Promise<BenchReturn | null> {
  const reading = readReturnReference(typedReference);
  if (reading.kind !== "reference" || !may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({ where: { reference: reading.reference }, select: benchSelect });
    if (row === null) return null;
    const next = await readNextSteps(tx, actor, reading.reference, new Date());
    if (next === null) return null;
    const view = returnView(row, await readLegalDuties(tx));
    const { pack, readingFile } = row;
    const lots = pack.lots.map(({ lot }) => lot);
    const packChanges = await readPackChanges(tx, row.packId);
    const { suggestion, caseFinding } = await readSuggestionThatStands(tx, row.id);
    return {
      ...view,
      takenByName: row.takenByName,
      dealer: row.dealer,
      changes: view.pack.changes,
      potted: pack.revision.potted,
      cellsRepairable: pack.revision.cellsRepairable,
      lots,
      build: pack.build,
      packChanges,
      maintained: pack.build === null ? null : asMaintained(pack.build, packChanges),
      whenRead:
        pack.build === null
          ? null
          : asMaintained(pack.build, readingFile === null ? [] : changesBy(packChanges, readingFile.uploadedAt)),
      population: await readHealthyPopulation(tx, pack.revision.id, row.packId),
      cyclesTo80Percent: pack.revision.model.cyclesTo80Percent,
      file: readingFile === null ? null : fileFacts(readingFile),
      traces: readingFile?.traces ?? null,
      measurements: keptMeasurements(readingFile?.measurements ?? [], readingFile?.suggestion?.ruleVersion ?? null),
      highRatio: judgedBy(readingFile?.suggestion?.thresholds).resistanceRatio,
      check: await checkReturnedPack(tx, {
        packId: row.packId,
        revisionCode: pack.revision.code,
        lotCodes: lots.map(({ code }) => code),
        findings: view.readings?.findings ?? [],
      }),
      earlier: pack.returns
        .filter(({ reference }) => reference !== row.reference)
        .map(({ reference, toldOn, decision }) => ({
          reference,
          toldOn: fromDateColumn(toldOn),
          remedy: decision?.remedy ?? null,
        })),
      caseReadings: row.caseReadings,
      caseFinding,
      suggestion,
      safetyOpen: isSetApart(next.handledAs),
      next,
    };
  });
}

/** The verdict's thresholds as they were when the file was judged; an older file keeps none of its own. */
function judgedBy(stored: unknown): VerdictThresholds {
  const own = modelThresholdsSchema.safeParse(stored ?? {});
  return settingsForModel({ diagnosis: own.success ? own.data : {} }).settings.verdict;
}
