import { makeReturnReference } from "@/lib/returns/return-reference";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { seededRandom, seedFrom } from "../simulator/seeded-random";
import { progressOf } from "./decide-return";
import type { Episode } from "./episode";
import { lodgedPart } from "./lodged-return";
import { comebackOf, failureOfReplacement } from "./next-episodes";
import type { ReplacementStore } from "./replacement-store";
import type {
  ScenarioModel,
  ScenarioPack,
  ScenarioReplacement,
  ScenarioReturn,
  ScenarioRevision,
  ScenarioUser,
} from "./scenario";
import { stableId } from "./stable-id";

export interface ReturnsInput {
  readonly episodes: readonly Episode[];
  readonly packs: ReadonlyMap<string, ScenarioPack>;
  readonly models: readonly ScenarioModel[];
  readonly revisions: readonly ScenarioRevision[];
  readonly users: readonly ScenarioUser[];
  readonly store: ReplacementStore;
  readonly asOf: CalendarDate;
}

export interface ReturnsOutcome {
  readonly returns: readonly ScenarioReturn[];
  readonly replacements: readonly ScenarioReplacement[];
}

/** Works the returns off in the order they were lodged; each may bring another one later. */
export function buildReturns(input: ReturnsInput): ReturnsOutcome {
  const queue = [...input.episodes];
  const returns: ScenarioReturn[] = [];
  const replacements: ScenarioReplacement[] = [];
  const countOfYear = new Map<number, number>();
  for (let episode = takeEarliest(queue); episode !== undefined; episode = takeEarliest(queue)) {
    if (episode.lodgedOn >= input.asOf) {
      continue;
    }
    const year = Number(episode.lodgedAt.slice(0, 4));
    const sequence = (countOfYear.get(year) ?? 0) + 1;
    countOfYear.set(year, sequence);
    const key = String(returns.length + 1).padStart(4, "0");
    const { lodged, decidedOn } = returnOf(input, episode, key, makeReturnReference(year, sequence));
    returns.push(lodged);
    if (lodged.decision !== null && decidedOn !== null) {
      const comeback = comebackOf(episode, lodged.decision, decidedOn, input.asOf);
      queue.push(...(comeback === null ? [] : [comeback]));
      const sent = sendReplacement(input, lodged, decidedOn);
      if (sent !== null) {
        replacements.push(sent.replacement);
        const again = failureOfReplacement(sent.pack, episode, sent.replacement.deliveredOn, input.asOf);
        queue.push(...(again === null ? [] : [again]));
      }
    }
  }
  return { returns: withOneInDanger(returns), replacements };
}

function takeEarliest(queue: Episode[]): Episode | undefined {
  let earliest = 0;
  queue.forEach((episode, i) => {
    if (episode.lodgedAt < (queue[earliest]?.lodgedAt ?? "")) {
      earliest = i;
    }
  });
  return queue.splice(earliest, 1)[0];
}

function returnOf(input: ReturnsInput, episode: Episode, key: string, reference: string) {
  const random = seededRandom(seedFrom(`return/${episode.storySerial}/${episode.storyNoticedOn}`));
  const pack = input.packs.get(episode.serial);
  const revision = input.revisions.find(({ code }) => code === pack?.revisionCode);
  const model = input.models.find(({ code }) => code === revision?.modelCode);
  if (pack === undefined || revision === undefined || model === undefined) {
    throw new RangeError(`return: no pack, revision or model for ${episode.serial}`);
  }
  const current = input.revisions
    .filter(({ modelCode, introducedOn }) => modelCode === revision.modelCode && introducedOn <= episode.lodgedOn)
    .reduce((newest, candidate) => (candidate.order > newest.order ? candidate : newest), revision);
  const lodgedBy = input.users.find(({ dealerCode }) => dealerCode === episode.dealer.code);
  const { decidedOn, ...progress } = progressOf(episode, revision, current, input.asOf, random);
  const lodged: ScenarioReturn = {
    id: stableId("return", reference, episode.lodgedAt),
    key,
    reference,
    serial: episode.serial,
    dealerCode: episode.dealer.code,
    noticedOn: episode.noticedOn,
    toldAt: episode.toldAt,
    toldOn: episode.toldOn,
    lodgedAt: episode.lodgedAt,
    lodgedBy: lodgedBy?.email ?? null,
    ...lodgedPart(episode, pack, model.model, random),
    ...progress,
    trueFault: episode.fault,
  };
  return { lodged, decidedOn };
}

function sendReplacement(input: ReturnsInput, lodged: ScenarioReturn, decidedOn: CalendarDate) {
  const revisionCode = lodged.decision?.replacementRevisionCode ?? null;
  const random = seededRandom(seedFrom(`replacement/${lodged.key}`));
  const deliveredOn = plusDays(decidedOn, random.integer(5, 13));
  if (revisionCode === null || deliveredOn > input.asOf) {
    return null;
  }
  const pack = input.store.send(revisionCode, lodged.dealerCode, decidedOn);
  if (pack === null) {
    return null;
  }
  const replacement: ScenarioReplacement = {
    id: stableId("replacement", pack.serial, `${deliveredOn}T12:00:00Z`),
    returnKey: lodged.key,
    oldSerial: lodged.serial,
    newSerial: pack.serial,
    deliveredOn,
  };
  return { pack, replacement };
}

/** One of those waiting shows a danger sign: the queue must put it first. The likeliest fault for it is chosen. */
function withOneInDanger(returns: readonly ScenarioReturn[]): ScenarioReturn[] {
  const waiting = returns.filter(({ state }) => state === "sent-in");
  const chosen =
    waiting.find(({ trueFault }) => trueFault === "self-discharge" || trueFault === "over-discharge") ??
    waiting.find(({ trueFault }) => trueFault === "weak-cell" || trueFault === "water-ingress") ??
    waiting[0];
  return returns.map((lodged) => (lodged === chosen ? { ...lodged, dangerSigns: ["hot", "swollen"] } : lodged));
}
