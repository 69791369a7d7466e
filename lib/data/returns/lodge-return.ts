import "server-only";
import { createHash } from "node:crypto";
import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import type { SafetyClass } from "@/lib/diagnosis/finding";
import { checkReturnDates } from "@/lib/returns/check-return-dates";
import { type Danger, dangerOf } from "@/lib/returns/danger-signs";
import type { LodgeReturn } from "@/lib/returns/lodge-return.schema";
import { type ReplacedReason, replacedReasonLabels } from "@/lib/returns/replaced-pack";
import { makeReturnReference } from "@/lib/returns/return-reference";
import { dueAt } from "@/lib/returns/return-settings.schema";
import { whoseTurn } from "@/lib/returns/return-turn";
import { riskRank } from "@/lib/returns/risk-rank";
import { type CalendarDate, laterOf } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { sayDate } from "@/lib/warranty/say-date";
import { toDateColumn, toOptionalDateColumn } from "../calendar-columns";
import { asActor, asSystem, type Transaction } from "../database";
import { queueNotice } from "../notices/notices";
import { readPackFacts } from "../packs/pack-facts";
import { unknownSerial, zoneOfDealer } from "../packs/packs";
import { attachReadings, classesOf } from "../readings/attach-readings";
import { suggestAnew } from "../readings/suggest-anew";
import { readSuggestionContext } from "../readings/suggestion-context";
import { wasTakenOut } from "../readings/take-readings-out";
import { type FurtherNote, openIncidentForReturn } from "../safety/open-incident";
import { appendNote } from "../safety/raise-danger";
import { raiseWithReturn } from "../safety/raise-with-return";
import { tellOfDanger } from "../safety/tell-of-danger";
import { breaksUnique } from "../unique-violation";
import { answerCover, type StatedSale, whatCoverSays } from "../warranty/cover";
import { bringBack } from "./bring-back";
import { appendMove } from "./history";
import { forgetSentDraft, takeDraft } from "./return-drafts";
import { readReturnSettings } from "./return-settings";
import { lockPack } from "./track-rows";

export interface LodgeProblem {
  readonly field: keyof LodgeReturn;
  readonly sentence: string;
}

export type LodgeAnswer =
  | { readonly ok: true; readonly reference: string; readonly repeated: boolean }
  | { readonly ok: false; readonly problems: readonly LodgeProblem[] };

const alreadyOpen: LodgeProblem = {
  field: "serial",
  sentence: "A return for this pack is already open. Look it up under your returns, or ask the maker's service desk.",
};

const keyReused: LodgeProblem = {
  field: "clientKey",
  sentence: "These answers were sent before with other contents. Start a new return if this is another complaint.",
};

/**
 * Lodges a return, once: the same client key sends back the same return. Cover is computed and stored with its policy
 * version, danger signs raise a flag, and the history gets its first row, all in one transaction.
 */
export async function lodgeReturn(actor: Actor, form: LodgeReturn, now = new Date()): Promise<LodgeAnswer> {
  const { dealerId } = actor;
  if (!may(actor, "lodge-return") || dealerId === null) return notTheirs;
  return lodgeFor(actor, dealerId, form, now);
}

/**
 * Lodges a return for a dealer who told it to the maker's service, by telephone say. It is the dealer's return like any
 * other; the history names who lodged it, and that person approves nothing of it.
 */
export async function lodgeOnBehalf(
  actor: Actor,
  dealerCode: string,
  form: LodgeReturn,
  now = new Date(),
): Promise<LodgeAnswer> {
  if (!may(actor, "lodge-on-behalf")) return notTheirs;
  const dealer = await asActor(actor, (tx) =>
    tx.dealer.findUnique({ where: { code: dealerCode }, select: { id: true } }),
  );
  return dealer === null ? notTheirs : lodgeFor(actor, dealer.id, form, now);
}

const notTheirs: LodgeAnswer = {
  ok: false,
  problems: [
    { field: "clientKey", sentence: "A return is lodged by a dealer's own account, or by service for a dealer." },
  ],
};

async function lodgeFor(actor: Actor, dealerId: string, form: LodgeReturn, now: Date): Promise<LodgeAnswer> {
  const fingerprint = fingerprintOf(form);
  const before = await findSentBefore(actor, dealerId, form.clientKey, fingerprint);
  if (before !== null) return before;

  // As the system: the sale and an open return may be another dealer's. Neither is shown, only the answers drawn from them.
  const facts = await asSystem(async (tx) => {
    const pack = await readPackFacts(tx, form.serial);
    if (pack === null) return null;
    // A dealer east of the place of sale may already write tomorrow's date there: the later calendar counts.
    const here = civilDateAt(now, await zoneOfDealer(tx, dealerId));
    const today = laterOf(here, pack.saleZone === null ? here : civilDateAt(now, pack.saleZone));
    // A receipt that nobody here has read is the dealer's word until service confirms its photograph (cover-proof.ts).
    const stated: StatedSale | null =
      form.soldOnStated === undefined ? null : { soldOn: form.soldOnStated, proven: false };
    const { toldOn, symptom } = form;
    const answer = await answerCover(tx, pack, { toldOn, today, stated, symptom });
    const known = await readSuggestionContext(tx, pack, toldOn, answer.cover);
    return { pack, today, answer, context: { ...known, complaint: symptom } };
  });
  if (facts === null) return { ok: false, problems: [{ field: "serial", sentence: unknownSerial }] };
  const { pack, today, answer, context } = facts;
  const dateProblems = checkReturnDates({ ...form, builtOn: pack.builtOn, rootBuiltOn: pack.rootBuiltOn, today });
  if (dateProblems.length > 0) return { ok: false, problems: dateProblems };
  if (pack.replacedOn !== null && form.replacedBecause === undefined)
    return { ok: false, problems: [wasReplaced(pack.replacedOn)] };

  const danger = dangerOf(form.dangerSigns);
  let further: FurtherNote | null = null;
  try {
    const lodged = await asActor(actor, async (tx): Promise<LodgeAnswer> => {
      const file = await takeReadingFile(tx, dealerId, form);
      if (file.kind === "problem") return { ok: false, problems: [file.problem] };
      await lockPack(tx, pack.packId);
      const zone = await zoneOfDealer(tx, dealerId);
      const settings = await readReturnSettings(tx, now, zone);
      const { begunOnBehalfBy, dangerSince } = await takeDraft(tx, { dealerId, clientKey: form.clientKey });
      const remedy =
        file.id === null ? null : await suggestAnew(tx, file.id, { model: pack.model.facts, context, danger });
      const stored = await tx.return.create({
        data: {
          ...whatWasSaid(form, danger),
          ...whatCoverSays(answer),
          reference: await nextReference(tx, now),
          packId: pack.packId,
          dealerId,
          clientFingerprint: fingerprint,
          status: "sent-in",
          turn: whoseTurn("sent-in"),
          dueAt: dueAt("sent-in", now, settings),
          riskRank: riskRank(danger.kind, file.safetyClasses, remedy),
          lodgedAt: now,
          noFileReason: file.id === null ? (form.noFileReason ?? null) : null,
        },
        select: { id: true, reference: true },
      });
      await forgetSentDraft(tx, { dealerId, clientKey: form.clientKey });
      if (file.id !== null) await attachReadings(tx, actor, { fileId: file.id, returnId: stored.id, at: now });
      if (danger.kind !== "none") {
        await tx.safetyFlag.create({
          data: {
            packId: pack.packId,
            returnId: stored.id,
            dealerId,
            signs: [...danger.signs],
            raisedByUserId: actor.userId,
            raisedByName: actor.name,
            raisedAt: now,
          },
        });
      }
      await bringBack(tx, actor, { packId: pack.packId, returnId: stored.id, at: now, zone });
      const { safetyClasses } = file;
      const raised = { returnId: stored.id, packId: pack.packId, danger, safetyClasses, at: now, zone };
      if (await raiseWithReturn(tx, actor, raised))
        await tellOfDanger(tx, { returnId: stored.id, reference: stored.reference, occasion: "lodged" });
      further = await openIncidentForReturn(tx, actor, stored.id, now, dangerSince);
      await appendMove(tx, actor, {
        returnId: stored.id,
        move: "lodge",
        from: null,
        to: "sent-in",
        reason: whyLodged(
          whoLodged(actor, begunOnBehalfBy?.name ?? null),
          pack.replacedOn === null ? undefined : form.replacedBecause,
        ),
        dataVersion: 1,
        ruleVersion: answer.cover.policyVersion,
        at: now,
        zone,
        facts: {
          ...(form.replacedBecause === undefined ? {} : { stated: { replacedBecause: form.replacedBecause } }),
          ...(begunOnBehalfBy === null ? {} : { begunByUserId: begunOnBehalfBy.userId }),
        },
      });
      await queueNotice(tx, {
        kind: "received",
        reference: stored.reference,
        returnId: stored.id,
        occasion: "version 1",
        to: { dealerId },
      });
      return { ok: true, reference: stored.reference, repeated: false };
    });
    if (further !== null) await appendNote(actor, further, now);
    return lodged;
  } catch (error) {
    if (breaksUnique(error, "Return_one_open_per_pack")) return { ok: false, problems: [alreadyOpen] };
    if (!breaksUnique(error, "Return_dealerId_clientKey_key")) throw error;
    // Two sends of the same form ran side by side and this one came second: answer as a repeat.
    const first = await findSentBefore(actor, dealerId, form.clientKey, fingerprint);
    if (first === null) throw error;
    return first;
  }
}

function whoLodged(actor: Actor, begunOnBehalfBy: string | null): string {
  if (actor.dealerId === null) return "Lodged by the maker's service on behalf of the dealer.";
  return begunOnBehalfBy === null
    ? "Lodged by the dealer."
    : `Lodged by the dealer; begun for the dealer by ${begunOnBehalfBy} of the maker's service.`;
}

function wasReplaced(on: CalendarDate): LodgeProblem {
  return {
    field: "replacedBecause",
    sentence: `This pack was replaced on ${sayDate(on)}. If the complaint is about the pack that came in its place, take that serial; else say why this one is here.`,
  };
}

function whyLodged(lodged: string, because: ReplacedReason | undefined): string {
  return because === undefined ? lodged : `${lodged} The pack was replaced before: ${replacedReasonLabels[because]}.`;
}

function whatWasSaid(form: LodgeReturn, danger: Danger) {
  const { clientKey, noticedOn, toldOn, concern, symptom, conditions, soldOnStated, soldOnEvidence } = form;
  return {
    clientKey,
    dangerSigns: danger.kind === "none" ? [] : [...danger.signs],
    noticedOn: toDateColumn(noticedOn),
    toldOn: toDateColumn(toldOn),
    concern,
    symptom,
    conditions,
    soldOnStated: toOptionalDateColumn(soldOnStated ?? null),
    soldOnEvidence: soldOnStated === undefined ? null : (soldOnEvidence ?? null),
  };
}

/** SHA-256 over what was sent, so that one key cannot stand for two complaints. */
function fingerprintOf(form: LodgeReturn): string {
  const sorted = Object.entries(form).sort(([a], [b]) => (a < b ? -1 : 1));
  return createHash("sha256").update(JSON.stringify(sorted)).digest("hex");
}

async function findSentBefore(
  actor: Actor,
  dealerId: string,
  clientKey: string,
  fingerprint: string,
): Promise<LodgeAnswer | null> {
  const sent = await asActor(actor, (tx) =>
    tx.return.findUnique({
      where: { dealerId_clientKey: { dealerId, clientKey } },
      select: { reference: true, clientFingerprint: true },
    }),
  );
  if (sent === null) return null;
  if (sent.clientFingerprint !== fingerprint) return { ok: false, problems: [keyReused] };
  return { ok: true, reference: sent.reference, repeated: true };
}

type TakenFile =
  | { readonly kind: "file"; readonly id: string | null; readonly safetyClasses: readonly SafetyClass[] }
  | { readonly kind: "problem"; readonly problem: LodgeProblem };

/** What rows are found by; another shape is no fault of the database, only a file that is not kept. */
const readingFileIdSchema = z.uuid();

/** The uploaded file named on the form: this dealer's, of this pack, and not part of another return yet. */
async function takeReadingFile(tx: Transaction, dealerId: string, form: LodgeReturn): Promise<TakenFile> {
  if (form.readingFileId === undefined) return { kind: "file", id: null, safetyClasses: [] };
  const problem = (sentence: string): TakenFile => ({ kind: "problem", problem: { field: "readingFileId", sentence } });
  const file = readingFileIdSchema.safeParse(form.readingFileId).success
    ? await tx.readingFile.findUnique({
        where: { id: form.readingFileId, dealerId },
        select: { id: true, serial: true, returnId: true, findings: { select: { safetyClass: true } } },
      })
    : null;
  if (file === null) return problem("This readings file is no longer kept. Choose it again.");
  if (file.returnId !== null)
    return problem("This readings file belongs to another return. Choose the file of this pack.");
  if (await wasTakenOut(tx, file.id)) return problem("This readings file was taken out. Choose it again.");
  if (file.serial !== form.serial)
    return problem("This readings file was added for another serial. Choose the file of this pack.");
  return { kind: "file", id: file.id, safetyClasses: classesOf(file.findings) };
}

async function nextReference(tx: Transaction, now: Date): Promise<string> {
  const [row] = await tx.$queryRaw<{ number: bigint }[]>`SELECT nextval('return_reference_number') AS number`;
  if (row === undefined) throw new Error("The reference sequence gave no number");
  return makeReturnReference(now.getUTCFullYear(), Number(row.number));
}
