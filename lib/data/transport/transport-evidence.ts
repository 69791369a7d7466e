import "server-only";
import { z } from "zod";
import { notSeenSchema } from "@/lib/diagnosis/not-seen";
import { transportInput } from "@/lib/diagnosis/stages/transport-input";
import { lowerFirst } from "@/lib/diagnosis/wording";
import { modelThresholdsSchema } from "@/lib/packs/pack-model";
import { handSignLabels, handSigns } from "@/lib/receiving/arrival.schema";
import type { Leg } from "@/lib/transport/leg";
import type { CaseSign, PackEvidence } from "@/lib/transport/propose-class";
import type { Prisma } from "@/prisma/generated/client";

/** A pack as its labels and packing orders name it. */
export const packOnPaper = {
  serial: true,
  revision: {
    select: {
      code: true,
      testSummaryReference: true,
      model: { select: { code: true, name: true, massKg: true, ratedCapacityAh: true, ratedVoltageV: true } },
    },
  },
} as const satisfies Prisma.PackSelect;

/** Everything the proposal of a transport class and the packing orders of one way rest on. */
export const transportSelect = (leg: Leg) =>
  ({
    id: true,
    reference: true,
    packId: true,
    dealerId: true,
    status: true,
    dangerSigns: true,
    conditions: true,
    noFileReason: true,
    dealer: { select: { name: true, town: true, country: true, timeZone: true } },
    pack: { select: packOnPaper },
    readingFile: {
      select: {
        id: true,
        coverage: true,
        findings: { select: { fault: true, safetyClass: true } },
        suggestion: { select: { remedy: true, unseen: true, thresholds: true } },
      },
    },
    readingFiles: {
      orderBy: [{ attachedAt: { sort: "desc", nulls: "last" } }, { id: "desc" }],
      select: {
        id: true,
        fileName: true,
        findings: { select: { fault: true, safetyClass: true } },
        suggestion: { select: { remedy: true } },
      },
    },
    declarations: {
      where: { leg },
      orderBy: { sequence: "desc" },
      select: {
        id: true,
        sequence: true,
        stockPackId: true,
        consignee: true,
        proposedSafety: true,
        transportClass: true,
        proposedClass: true,
        criteria: true,
        inEquipment: true,
        reason: true,
        ruleVersion: true,
        ruleFingerprint: true,
        declaredByName: true,
        declaredAt: true,
        answers: { select: { proposedByName: true } },
        leaves: {
          orderBy: { givenAt: "desc" },
          take: 1,
          select: { givenAt: true, expiresAt: true, givenByName: true },
        },
        prints: { select: { kind: true, printedAt: true, printedByName: true }, orderBy: { printedAt: "desc" } },
      },
    },
    proposedClasses: {
      where: { leg },
      orderBy: { proposedAt: "desc" },
      take: 1,
      select: {
        id: true,
        stockPackId: true,
        afterDeclaration: true,
        transportClass: true,
        criteria: true,
        inEquipment: true,
        consignee: true,
        reason: true,
        proposedByUserId: true,
        proposedByName: true,
        proposedAt: true,
      },
    },
    oldPackOrders: { where: { about: "old-pack" }, orderBy: { orderedAt: "desc" }, take: 1, select: { order: true } },
    arrivals: {
      orderBy: { arrivedAt: "desc" },
      select: { signs: true, arrivedAt: true, settlement: { select: { outcome: true } } },
    },
  }) as const satisfies Prisma.ReturnSelect;

export type TransportRow = Prisma.ReturnGetPayload<{ select: ReturnType<typeof transportSelect> }>;

/** Each time the pack of the return itself came in, the latest first; what was settled as another pack says nothing of this one. */
export function ownArrivals({ arrivals }: TransportRow): TransportRow["arrivals"] {
  return arrivals.filter(({ settlement }) => settlement?.outcome !== "other-pack");
}

/** The stored return as the proposal reads it, with what was judged of the pack since. Signs that goods-in found, whichever time, count like those the dealer told. */
export function packEvidence(row: TransportRow, judged: readonly string[], ofCase: CaseSign | null): PackEvidence {
  const { readingFile } = row;
  const suggestion = readingFile?.suggestion ?? null;
  return {
    judged,
    ofCase,
    dangerSigns: row.dangerSigns,
    conditions: row.conditions,
    noFileReason: row.noFileReason,
    readings:
      readingFile === null
        ? null
        : transportInput(
            readingFile.findings,
            readingFile.coverage,
            suggestion === null
              ? null
              : {
                  remedy: suggestion.remedy,
                  unseen: z.array(notSeenSchema).parse(suggestion.unseen),
                  thresholds: modelThresholdsSchema.safeParse(suggestion.thresholds ?? {}).data ?? {},
                },
          ),
    earlierReadings: row.readingFiles
      .filter(({ id }) => id !== readingFile?.id)
      .map(({ fileName, findings, suggestion }) => ({
        fileName,
        findings,
        suggestedRemedy: suggestion?.remedy ?? null,
      })),
    signsInHand: signsFoundAt(ownArrivals(row)),
  };
}

/** What goods-in found at these arrivals, a sentence each. */
export function signsFoundAt(arrivals: readonly { readonly signs: readonly string[] }[]): string[] {
  return handSigns
    .filter((sign) => arrivals.some(({ signs }) => signs.includes(sign)))
    .map((sign) => `Found at goods-in: ${lowerFirst(handSignLabels[sign])}.`);
}
