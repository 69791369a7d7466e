import { calendarDate } from "@/lib/warranty/calendar";
import { seededRandom, seedFrom } from "../simulator/seeded-random";
import { buildRecord } from "./build-record";
import { buildDealers, buildUsers } from "./dealers";
import { firstEpisodes } from "./first-episodes";
import { buildKnownIssues } from "./known-issues";
import { buildLotUses, type LotUse, lotsOnDay } from "./lots";
import { buildModels } from "./models";
import { type BuiltPack, buildPacks, plannedPacks } from "./production";
import { ReplacementStore } from "./replacement-store";
import { buildReturns } from "./returns";
import { buildCompatibilities, buildRevisions, revisionPlans } from "./revisions";
import { dispatchOf, saleOf } from "./sales";
import type {
  Scenario,
  ScenarioDealer,
  ScenarioModel,
  ScenarioPack,
  ScenarioReturn,
  ScenarioRevision,
  ScenarioSale,
} from "./scenario";
import { stableId } from "./stable-id";
import { storyCalendar, storyDataDate } from "./story-calendar";

export interface ScenarioOptions {
  /** Data date, `YYYY-MM-DD`, whole weeks from the story's own: all its dates and serials move along, nothing else. */
  readonly asOf?: string;
  /** About so many packs; the story shows clearly from some thousands on. */
  readonly packs?: number;
}

/**
 * The story, the same on each run:
 *
 * - A maker builds three pack models in eight revisions from autumn 2023 on and sells them through eight dealers in
 *   five countries. Spring and summer sell; packs built in autumn stand on the shelf.
 * - GW-C is young and was sold out in spring; since August the doubled line builds stock. Returns divided by shipments
 *   make it look like one of the best. At equal age it fails two to three times as often as GW-B: its new sense-lead
 *   connectors work loose and its faster welds crack. Nobody has opened an issue for it yet.
 * - Cell lot CBR-09 is bad: weak cells and self-discharge, in the last packs of BR-B and the first of BR-C. It was found
 *   and stopped in March 2026. One of its packs burned out.
 * - BR-A chafes its temperature leads, GW-A balances too little, TF-A works its main lead loose: known, with a remedy.
 * - Dealer D03 joined long after its first sales. Of its older packs only those still in use then are known, and they
 *   count from the day it joined.
 * - Customers wait before they tell, some dealers before they lodge. Some returns are found to be without fault, and
 *   some of those come back. Replacements are packs of their own, and a few of them fail as well.
 */
export function buildScenario(options: ScenarioOptions = {}): Scenario {
  const asOf = calendarDate(options.asOf ?? storyDataDate);
  const at = storyCalendar(asOf);
  const models = buildModels();
  const revisions = buildRevisions(at);
  const dealers = buildDealers(at);
  const users = buildUsers(at);
  const lotUses = buildLotUses(at, asOf);
  const knownIssues = buildKnownIssues(at);

  const planned = plannedPacks(revisionPlans);
  const built = buildPacks(revisionPlans, (options.packs ?? planned) / planned, at);
  const packs: ScenarioPack[] = [];
  const sales: ScenarioSale[] = [];
  for (const pack of built) {
    const dispatch = dispatchOf(pack, dealers, asOf);
    packs.push(packOf(pack, models, revisions, lotUses, dispatch?.dispatchedOn ?? null, dispatch?.dealer ?? null));
    const sale = dispatch === null ? null : saleOf(pack, dispatch, asOf);
    if (sale !== null) {
      sales.push(sale);
    }
  }

  const packBySerial = new Map(packs.map((pack) => [pack.serial, pack]));
  const dealerByCode = new Map(dealers.map((dealer) => [dealer.code, dealer]));
  const { episodes, knownSales } = firstEpisodes(sales, packBySerial, dealerByCode, asOf, at);
  const store = new ReplacementStore(packs, at("2026-03-09"));
  const outcome = buildReturns({ episodes, packs: packBySerial, models, revisions, users, store, asOf });
  const usedLots = new Set(packs.flatMap(({ lotCodes }) => lotCodes));
  return {
    asOf,
    models,
    revisions,
    compatibilities: buildCompatibilities(revisions),
    knownIssues,
    lots: lotUses.map(({ lot }) => lot).filter(({ code }) => usedLots.has(code)),
    dealers,
    users,
    packs: packs.map((pack) => store.latest(pack)),
    sales: withWeakEvidence(knownSales, outcome.returns, packBySerial),
    returns: outcome.returns,
    replacements: outcome.replacements,
  };
}

function packOf(
  pack: BuiltPack,
  models: readonly ScenarioModel[],
  revisions: readonly ScenarioRevision[],
  lotUses: readonly LotUse[],
  dispatchedOn: ScenarioPack["dispatchedOn"],
  dealer: ScenarioDealer | null,
): ScenarioPack {
  const revision = revisions.find(({ code }) => code === pack.revisionCode);
  const model = models.find(({ code }) => code === pack.modelCode);
  if (revision === undefined || model === undefined) {
    throw new RangeError(`pack: no revision or model for ${pack.serial}`);
  }
  const lotCodes = lotsOnDay(lotUses, pack.modelCode, pack.builtOn, revision.potted);
  return {
    id: stableId("pack", pack.serial, `${pack.builtOn}T10:00:00Z`),
    serial: pack.serial,
    storySerial: pack.storySerial,
    revisionCode: pack.revisionCode,
    builtOn: pack.builtOn,
    dispatchedOn,
    dealerCode: dealer?.code ?? null,
    lotCodes,
    build: buildRecord(pack, model.model, revision.firmware, lotCodes),
  };
}

/** Some sales were never registered: their date is only what was said when the complaint came. */
function withWeakEvidence(
  sales: readonly ScenarioSale[],
  returns: readonly ScenarioReturn[],
  packs: ReadonlyMap<string, ScenarioPack>,
): ScenarioSale[] {
  const returned = new Set(returns.map(({ serial }) => serial));
  return sales.map((sale) => {
    const random = seededRandom(seedFrom(`evidence/${packs.get(sale.serial)?.storySerial}`));
    const unregistered = returned.has(sale.serial) && random.chance(0.09);
    return unregistered ? { ...sale, evidence: "stated-at-complaint" } : sale;
  });
}
