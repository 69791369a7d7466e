import { createHash } from "node:crypto";
import { toDateColumn } from "@/lib/data/calendar-columns";
import { asSystem, type Transaction } from "@/lib/data/database";
import { type PackFacts, readPackFacts } from "@/lib/data/packs/pack-facts";
import { readBaseline } from "@/lib/data/readings/diagnosis-facts";
import { keepFile, receiveFile } from "@/lib/data/readings/file-store";
import { storeReadings } from "@/lib/data/readings/store-readings";
import { suggestAnew } from "@/lib/data/readings/suggest-anew";
import { readSuggestionContext } from "@/lib/data/readings/suggestion-context";
import { readApprovedSettings } from "@/lib/data/returns/return-settings";
import { answerCover, type CoverAnswer, whatCoverSays } from "@/lib/data/warranty/cover";
import type { Remedy, SafetyClass } from "@/lib/diagnosis/finding";
import { reportReadings } from "@/lib/diagnosis/reading-report";
import type { PackModel } from "@/lib/packs/pack-model";
import { readSerial } from "@/lib/packs/serial";
import { createReadingDecoder } from "@/lib/readings/read-readings";
import { dangerOf } from "@/lib/returns/danger-signs";
import { riskRank } from "@/lib/returns/risk-rank";
import type { Cover } from "@/lib/warranty/cover";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { need } from "./load-fleet";
import type { Scenario, ScenarioReturn } from "./scenario/scenario";
import { type Person, writeMoves } from "./write-moves";

/**
 * Writes the returns of the scenario as they would have been lodged, read, taken and decided, through the same code:
 * the files are decoded and diagnosed, the cover is answered under the policy of the day, the history is chained.
 */
export async function loadReturns(
  scenario: Scenario,
  people: ReadonlyMap<string, Person>,
  truths: (sha256: string, scenarioReturn: ScenarioReturn) => void,
): Promise<void> {
  const models = new Map(scenario.models.map(({ code, model }) => [code, model]));
  const ids = {
    dealer: new Map(scenario.dealers.map(({ code, id }) => [code, id])),
    revision: new Map(scenario.revisions.map(({ code, id }) => [code, id])),
    pack: new Map(scenario.packs.map(({ serial, id }) => [serial, id])),
  };
  const settings = await asSystem(readApprovedSettings);
  for (const one of scenario.returns) {
    const dealer = scenario.dealers.find(({ code }) => code === one.dealerCode);
    const model = models.get(one.serial.slice(0, 2));
    if (dealer === undefined || model === undefined) throw new RangeError(`return ${one.key}: dealer or model missing`);
    const lodger = people.get(one.lodgedBy ?? "") ?? {
      userId: `dealer:${dealer.code}`,
      name: dealer.name,
      role: "dealer",
    };
    const file = one.readings === null ? null : await keepBytes(one.readings.csv());
    if (file !== null) truths(file.sha256, one);
    await asSystem(async (tx) => {
      const dealerId = need(ids.dealer, one.dealerCode);
      const classes = await writeReturn(tx, one, dealerId, need(ids.pack, one.serial));
      const pack = await packOf(tx, one);
      const cover = await coverOf(tx, one, pack, dealer.zone);
      const read =
        file === null
          ? null
          : await writeReadings(tx, one, file, { model, pack, cover: cover.cover }, dealerId, lodger);
      await tx.return.update({
        where: { id: one.id },
        data: {
          riskRank: riskRank(classes.danger, read?.safetyClasses ?? [], read?.remedy ?? null),
          ...whatCoverSays(cover),
        },
        select: { id: true },
      });
      const replacement = scenario.replacements.find(({ returnKey }) => returnKey === one.key);
      const code = one.decision?.replacementRevisionCode ?? null;
      await writeMoves(tx, {
        one,
        zone: dealer.zone,
        settings,
        until: new Date(`${scenario.asOf}T12:00:00Z`),
        people,
        lodger,
        suggestionId: read?.suggestionId ?? null,
        safetyClasses: read?.safetyClasses ?? [],
        replacementRevisionId: code === null ? null : need(ids.revision, code),
        replacedBy:
          replacement === undefined ? null : { serial: replacement.newSerial, deliveredOn: replacement.deliveredOn },
      });
    });
  }
}

async function writeReturn(tx: Transaction, one: ScenarioReturn, dealerId: string, packId: string) {
  const { id, reference, concern, symptom, conditions, dangerSigns, noFileReason, noticedOn, toldOn, lodgedAt } = one;
  await tx.return.create({
    data: {
      id,
      reference,
      packId,
      dealerId,
      clientKey: id,
      clientFingerprint: createHash("sha256").update(id).digest("hex"),
      status: "sent-in",
      concern,
      symptom,
      conditions: [...conditions],
      dangerSigns: [...dangerSigns],
      noFileReason: one.readings === null ? noFileReason : null,
      noticedOn: toDateColumn(noticedOn),
      toldOn: toDateColumn(toldOn),
      lodgedAt: new Date(lodgedAt),
      coverOutcome: "cannot-tell-yet",
      coverPolicyVersion: "",
      coverBecause: [],
    },
    select: { id: true },
  });
  return { danger: dangerOf(dangerSigns).kind };
}

async function packOf(tx: Transaction, one: ScenarioReturn): Promise<PackFacts> {
  const serial = readSerial(one.serial);
  const pack = serial.kind === "serial" ? await readPackFacts(tx, serial.serial) : null;
  if (pack === null) throw new RangeError(`return ${one.key}: pack ${one.serial} missing`);
  return pack;
}

async function coverOf(tx: Transaction, one: ScenarioReturn, pack: PackFacts, zone: string): Promise<CoverAnswer> {
  const today = civilDateAt(new Date(one.lodgedAt), zone);
  return answerCover(tx, pack, { toldOn: one.toldOn, today, stated: null, symptom: one.symptom });
}

interface KeptBytes {
  readonly bytes: Uint8Array;
  readonly sha256: string;
  readonly sizeBytes: number;
}

async function keepBytes(text: string): Promise<KeptBytes> {
  const bytes = new TextEncoder().encode(text);
  async function* once() {
    yield bytes;
  }
  const received = await receiveFile(once());
  if (received.kind !== "received") throw new RangeError(`a simulated file is ${received.kind}`);
  await keepFile(received.temporaryPath, received.sha256);
  return { bytes, sha256: received.sha256, sizeBytes: received.sizeBytes };
}

async function writeReadings(
  tx: Transaction,
  one: ScenarioReturn,
  file: KeptBytes,
  { model, pack, cover }: { readonly model: PackModel; readonly pack: PackFacts; readonly cover: Cover },
  dealerId: string,
  lodger: Person,
): Promise<{ safetyClasses: readonly SafetyClass[]; remedy: Remedy | null; suggestionId: string | null }> {
  const decoder = createReadingDecoder({ model, builtOn: pack.builtOn });
  decoder.push(file.bytes);
  const decoded = decoder.end();
  if (decoded.kind === "unusable") throw new RangeError(`return ${one.key}: ${decoded.sentence}`);
  const context = await readSuggestionContext(tx, pack, one.toldOn, cover);
  const baseline = await readBaseline(tx, pack);
  const report = reportReadings(decoded, model, context, baseline);
  const facts = {
    actor: lodger,
    dealerId,
    serial: one.serial,
    fileName: one.readings?.fileName ?? "readings.csv",
    sha256: file.sha256,
    sizeBytes: file.sizeBytes,
  };
  const card = await storeReadings(tx, facts, report);
  const remedy = await suggestAnew(tx, card.id, { model, context, danger: dangerOf(one.dangerSigns) });
  await tx.readingFile.update({
    where: { id: card.id },
    data: { returnId: one.id, uploadedAt: new Date(one.lodgedAt) },
    select: { id: true },
  });
  const suggestion = await tx.suggestion.findUnique({ where: { readingFileId: card.id }, select: { id: true } });
  return {
    safetyClasses: report.diagnosis.findings.map(({ safetyClass }) => safetyClass),
    remedy,
    suggestionId: suggestion?.id ?? null,
  };
}
