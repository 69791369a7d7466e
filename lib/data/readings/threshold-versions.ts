import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { type ProposalRefusal, proposalSentences, type Verdict } from "@/lib/access/two-people";
import { thresholdChanges } from "@/lib/diagnosis/threshold-fields";
import { readProposedThresholds, type ThresholdProposal } from "@/lib/diagnosis/threshold-proposal";
import type { ModelThresholds } from "@/lib/packs/pack-model";
import { type CalendarDate, compareDates } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import type { Prisma } from "@/prisma/generated/client";
import { fromDateColumn, toDateColumn } from "../calendar-columns";
import { asActor, type Transaction } from "../database";
import { packModelOf } from "../packs/pack-facts";
import { firstDayIsOver, proposedBy, settleProposal, type TwoPeople, twoPeople } from "../two-people";
import { breaksUnique } from "../unique-violation";
import { storedThresholds } from "./thresholds-in-force";

export interface ThresholdVersionView extends TwoPeople {
  readonly version: string;
  readonly validFrom: CalendarDate;
  /** What it changes against the approved version before it, or what set-up wrote. */
  readonly changes: readonly string[];
}

/** A model with the thresholds of its own, and every version, newest first. */
export interface ModelThresholdHistory {
  readonly code: string;
  readonly name: string;
  /** By which readings are judged today. */
  readonly inForce: ModelThresholds;
  /** Version of `inForce`; null where what set-up wrote still counts. */
  readonly inForceVersion: string | null;
  /** The newest approved one, which may not have begun: what the next proposal starts from. */
  readonly newest: { readonly version: string; readonly thresholds: ModelThresholds };
  readonly versions: readonly ThresholdVersionView[];
}

type Reason = ProposalRefusal | "no-such-model" | "proposal-open" | "changed" | "not-after" | "unsound";

export type ThresholdAnswer =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly reason: Reason;
      /** All of them in one, where no fields are shown. */
      readonly sentence: string;
      readonly problems: readonly { readonly field: string; readonly sentence: string }[];
    };

const sentences = {
  ...proposalSentences({
    thing: "version",
    whose: "the service lead and managers, and approved by a manager",
    another: "a manager who did not",
    notPast: "what was judged stays as it was judged.",
  }),
  "not-allowed": "Thresholds are proposed by the service lead or a manager, and approved by a manager.",
};

function refuse(reason: Reason, sentence: string, field = "why"): ThresholdAnswer {
  return { ok: false, reason, sentence, problems: [{ field, sentence }] };
}

type ModelRow = NonNullable<Awaited<ReturnType<typeof readModel>>>;

const withVersions = {
  thresholdVersions: { orderBy: [{ validFrom: "asc" }, { proposedAt: "asc" }] },
} satisfies Prisma.PackModelInclude;

function readModel(tx: Transaction, code: string) {
  return tx.packModel.findUnique({ where: { code }, include: withVersions });
}

/** Every model by code; null where the person may not ask. */
export async function listThresholdModels(actor: Actor, now = new Date()): Promise<ModelThresholdHistory[] | null> {
  if (!may(actor, "read-build-record")) return null;
  return asActor(actor, async (tx) => {
    const models = await tx.packModel.findMany({ include: withVersions, orderBy: { code: "asc" } });
    return models.map((model) => historyOf(actor, model, now));
  });
}

/** One model; null where there is none of this code, or the person may not ask. */
export async function readModelThresholds(
  actor: Actor,
  code: string,
  now = new Date(),
): Promise<ModelThresholdHistory | null> {
  if (!may(actor, "read-build-record")) return null;
  const model = await asActor(actor, (tx) => readModel(tx, code));
  return model === null ? null : historyOf(actor, model, now);
}

function historyOf(actor: Actor, model: ModelRow, now: Date): ModelThresholdHistory {
  const today = civilDateAt(now, "UTC");
  const atSetUp = { version: "", thresholds: storedThresholds(model.diagnosis) };
  let newest = atSetUp;
  let inForce = atSetUp;
  const versions = model.thresholdVersions.map((row): ThresholdVersionView => {
    const validFrom = fromDateColumn(row.validFrom);
    const thresholds = storedThresholds(row.thresholds);
    const changes = thresholdChanges(newest.thresholds, thresholds);
    if (row.state === "approved") {
      newest = { version: row.version, thresholds };
      if (compareDates(validFrom, today) <= 0) inForce = newest;
    }
    return { version: row.version, validFrom, changes, ...twoPeople(actor, row) };
  });
  return {
    code: model.code,
    name: model.name,
    inForce: inForce.thresholds,
    inForceVersion: inForce.version === "" ? null : inForce.version,
    newest,
    versions: versions.reverse(),
  };
}

/** Proposes the next version. It counts for nothing until a manager who did not propose it approves it, nor before its first day. */
export async function proposeThresholds(
  actor: Actor,
  { model: code, onVersion, validFrom, why }: ThresholdProposal,
  typed: Readonly<Record<string, unknown>>,
  now = new Date(),
): Promise<ThresholdAnswer> {
  if (!may(actor, "propose-thresholds")) return refuse("not-allowed", sentences["not-allowed"]);
  if (compareDates(validFrom, civilDateAt(now, "UTC")) < 0)
    return refuse("day-past", sentences["day-past"], "validFrom");
  try {
    return await asActor(actor, async (tx) => {
      const model = await readModel(tx, code);
      if (model === null) return refuse("no-such-model", "There is no such model.");
      const approved = model.thresholdVersions.filter(({ state }) => state === "approved");
      const { newest } = historyOf(actor, model, now);
      if (newest.version !== onVersion)
        return refuse("changed", "Another version was approved meanwhile. Load the page again and start from that.");
      const last = approved.at(-1);
      if (last !== undefined && compareDates(validFrom, fromDateColumn(last.validFrom)) <= 0)
        return refuse("not-after", `It begins after ${last.version}, which it builds on.`, "validFrom");
      const read = readProposedThresholds(newest.thresholds, typed, packModelOf(model));
      if (read.kind === "problems") {
        const sentence = read.problems.map((problem) => problem.sentence).join(" ");
        return { ok: false, reason: "unsound", sentence, problems: read.problems };
      }
      if (thresholdChanges(newest.thresholds, read.thresholds).length === 0)
        return refuse("unsound", "Nothing differs from the newest version.");
      await tx.thresholdVersion.create({
        data: {
          modelId: model.id,
          version: `${code}-${model.thresholdVersions.length + 1}`,
          validFrom: toDateColumn(validFrom),
          thresholds: { ...read.thresholds },
          why,
          ...proposedBy(actor, now),
        },
        select: { id: true },
      });
      return { ok: true };
    });
  } catch (error) {
    if (breaksUnique(error, "ThresholdVersion_one_proposal_a_model", "ThresholdVersion_version_key"))
      return refuse("proposal-open", "A proposal for this model is open: settle it first.");
    throw error;
  }
}

/** Approves or drops a proposal. Whoever proposed it never approves it, and none is approved after its first day. */
export async function settleThresholds(
  actor: Actor,
  version: string,
  verdict: Verdict,
  now = new Date(),
): Promise<ThresholdAnswer> {
  if (!may(actor, "approve-thresholds")) return refuse("not-allowed", sentences["not-allowed"]);
  const answer = await settleProposal(actor, {
    verdict,
    now,
    find: (tx) => tx.thresholdVersion.findUnique({ where: { version } }),
    whyNotApproved: (row) => firstDayIsOver(row, now),
    save: (tx, _row, columns) =>
      tx.thresholdVersion.updateMany({ where: { version, state: "proposed" }, data: columns }),
    dayIndex: "ThresholdVersion_one_approved_a_day",
  });
  return answer.ok ? answer : refuse(answer.reason, sentences[answer.reason]);
}
