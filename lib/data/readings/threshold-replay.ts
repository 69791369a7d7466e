import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { thresholdChanges } from "@/lib/diagnosis/threshold-fields";
import { type Verdict, verdictDifferences } from "@/lib/diagnosis/verdict-differences";
import type { ModelThresholds } from "@/lib/packs/pack-model";
import { readSerial } from "@/lib/packs/serial";
import { readReturnReference } from "@/lib/returns/return-reference";
import { asActor, asSystem } from "../database";
import { readingPool } from "../reading-worker/reading-pool";
import { nothingKnown } from "../reading-worker/reading-task";
import { storedAnswers } from "./column-mappings";
import { readDiagnosisFacts } from "./diagnosis-facts";
import { isKept, pathOfKept } from "./file-store";
import { storedThresholds } from "./thresholds-in-force";

/** A kept file judged again under one set of thresholds, by the rules of today. Nothing of it is stored. */
export interface JudgedAgain {
  /** Null: those kept with the suggestion. */
  readonly under: "in-force" | { readonly proposal: string } | null;
  readonly verdict: Verdict;
  /** Against the thresholds kept with the suggestion. */
  readonly thresholdChanges: readonly string[];
  readonly differences: readonly string[];
}

export type ThresholdReplay =
  | {
      readonly kind: "replayed";
      readonly reference: string;
      /** As it was suggested and stands. */
      readonly kept: { readonly remedy: string; readonly ruleVersion: string };
      readonly ruleVersion: string;
      readonly again: readonly JudgedAgain[];
    }
  | { readonly kind: "not-replayed"; readonly sentence: string };

/**
 * Judges the readings of a past return again: under the thresholds kept with its suggestion, under those in force today, and under
 * an open proposal where there is one. Every time by the rules of today and by the readings and the pack alone: cover, complaint
 * and danger signs are left out. Null where the person may not ask.
 */
export async function replayThresholds(actor: Actor, typed: string): Promise<ThresholdReplay | null> {
  if (!may(actor, "propose-thresholds")) return null;
  const reading = readReturnReference(typed);
  const found = reading.kind === "reference" ? await readKept(actor, reading.reference) : null;
  if (found === null) return { kind: "not-replayed", sentence: `There is no return ${typed} with readings.` };
  const { reference, serial, file, kept, proposal } = found;
  // As the system: the baseline is drawn from other packs of the revision, and only the verdict comes out.
  const facts = await asSystem((tx) => readDiagnosisFacts(tx, serial));
  if (facts === null || !(await isKept(file.sha256)))
    return {
      kind: "not-replayed",
      sentence: `The original file of ${reference} is not in the store, so it cannot be judged again.`,
    };
  const { pack, context, baseline } = facts;
  const wanted: { readonly under: JudgedAgain["under"]; readonly thresholds: ModelThresholds }[] = [
    { under: null, thresholds: kept.thresholds },
    { under: "in-force", thresholds: storedThresholds(pack.model.facts.diagnosis) },
    ...(proposal === null ? [] : [{ under: { proposal: proposal.version }, thresholds: proposal.thresholds }]),
  ];
  const again: JudgedAgain[] = [];
  let ruleVersion = "";
  for (const { under, thresholds } of wanted) {
    const answer = await readingPool().readFile({
      path: pathOfKept(file.sha256),
      sizeBytes: file.sizeBytes,
      model: { ...pack.model.facts, diagnosis: thresholds },
      context,
      baseline,
      builtOn: pack.builtOn,
      receivedUnixS: file.uploadedAt.getTime() / 1000,
      columns: { ...nothingKnown, answers: file.answers },
    });
    if (answer.kind !== "report")
      return {
        kind: "not-replayed",
        sentence:
          answer.kind === "busy"
            ? "Several long files are being read just now. Ask again in a minute."
            : `The original file of ${reference} can no longer be read through.`,
      };
    const { findings, suggestion } = answer.diagnosis;
    ruleVersion = suggestion.ruleVersion;
    const verdict = { findings, suggestion };
    again.push({
      under,
      verdict,
      thresholdChanges: thresholdChanges(kept.thresholds, thresholds),
      differences: verdictDifferences(again[0]?.verdict ?? verdict, verdict),
    });
  }
  const { remedy } = kept;
  return { kind: "replayed", reference, kept: { remedy, ruleVersion: kept.ruleVersion }, ruleVersion, again };
}

async function readKept(actor: Actor, reference: string) {
  const row = await asActor(actor, (tx) =>
    tx.return.findUnique({
      where: { reference },
      select: {
        readingFile: {
          select: {
            serial: true,
            sha256: true,
            sizeBytes: true,
            columnAnswers: true,
            uploadedAt: true,
            suggestion: { select: { remedy: true, ruleVersion: true, thresholds: true } },
          },
        },
        pack: {
          select: {
            revision: {
              select: {
                model: {
                  select: {
                    thresholdVersions: { where: { state: "proposed" }, select: { version: true, thresholds: true } },
                  },
                },
              },
            },
          },
        },
      },
    }),
  );
  const file = row?.readingFile ?? null;
  if (row === null || file === null || file.suggestion === null) return null;
  const serial = readSerial(file.serial);
  if (serial.kind !== "serial") return null;
  const [proposal] = row.pack.revision.model.thresholdVersions;
  return {
    reference,
    serial: serial.serial,
    file: {
      sha256: file.sha256,
      sizeBytes: Number(file.sizeBytes),
      uploadedAt: file.uploadedAt,
      answers: storedAnswers(file.columnAnswers),
    },
    kept: { ...file.suggestion, thresholds: storedThresholds(file.suggestion.thresholds) },
    proposal:
      proposal === undefined ? null : { version: proposal.version, thresholds: storedThresholds(proposal.thresholds) },
  };
}
