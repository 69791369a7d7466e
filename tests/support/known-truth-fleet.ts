import type { GroupedHistory } from "@/lib/reliability/tally-lives";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { calendarDate, plusDays } from "@/lib/warranty/calendar";

const start = calendarDate("2023-01-01");
/** Data date in days since the first build. */
export const dataDay = 1080;
const days = Array.from({ length: dataDay + 1 }, (_, day) => plusDays(start, day));
const dataDate = plusDays(start, dataDay);

/** Revisions of which packs truly fail sooner: scale 0.7 times, hazard 1.53 times that of the others. One is young. */
export const badRevisions = ["R04", "R09"] as const;
export const youngBadRevision = "R09";

interface KnownTruthLife {
  readonly group: string;
  readonly number: number;
  /** Days since the first build. */
  readonly soldDay: number;
  readonly failsAtAge: number;
  readonly lodgedDay: number;
}

/**
 * Twelve revisions, one a quarter, each pack with a Weibull life of shape 1.2 and scale 9,700 days; time in stock and
 * reporting lag gamma of shape 2, mean 60 and 40 days.
 */
export function* knownTruthLives(random: () => number, packsPerRevision: number): Generator<KnownTruthLife> {
  const gamma2 = (mean: number) => (-Math.log(1 - random()) - Math.log(1 - random())) * (mean / 2);
  for (let revision = 1; revision <= 12; revision++) {
    const group = `R${String(revision).padStart(2, "0")}`;
    const scale = badRevisions.some((bad) => bad === group) ? 9700 * 0.7 : 9700;
    for (let number = 0; number < packsPerRevision; number++) {
      const soldDay = Math.round((revision - 1) * 90 + 90 * random() + gamma2(60));
      const failsAtAge = Math.max(1, Math.round(scale * (-Math.log(1 - random())) ** (1 / 1.2)));
      yield { group, number, soldDay, failsAtAge, lodgedDay: soldDay + failsAtAge + Math.round(gamma2(40)) };
    }
  }
}

/** The same as dated histories: what is known on day 1,080 and nothing else; the lags that are known are added to `lags`. */
export function* knownTruthFleet(
  random: () => number,
  packsPerRevision: number,
  lags: TruncatedLag[],
): Generator<GroupedHistory> {
  for (const { group, number, soldDay, failsAtAge, lodgedDay } of knownTruthLives(random, packsPerRevision)) {
    const toldOn = lodgedDay <= dataDay ? days[soldDay + failsAtAge] : undefined;
    if (toldOn !== undefined) {
      lags.push({ lag: lodgedDay - soldDay - failsAtAge, longest: dataDay - soldDay - failsAtAge });
    }
    yield {
      serial: `${group}-${number}`,
      group,
      stratum: "M",
      dispatched: true,
      daysSinceDispatch: null,
      faultFound: null,
      soldOn: days[soldDay] ?? null,
      underObservationFrom: null,
      dataDate,
      failure: toldOn === undefined ? null : { toldOn, confirmed: true },
      openReturnToldOn: null,
      firstReturn: toldOn === undefined ? null : { toldOn, outcome: "confirmed" },
      withUs: [],
      outOfUseOn: null,
      replacedOn: null,
      coverEndsOn: null,
    };
  }
}
