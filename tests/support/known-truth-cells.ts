import { type LifeCell, type LifeTable, MOST_SLACK_DAYS } from "@/lib/reliability/life-cell";
import type { TruncatedLag } from "@/lib/stats/reverse-product-limit";
import { dataDay, knownTruthLives } from "./known-truth-fleet";

/** The fleet of known truth as cells, without going through dates: the same table as `tallyLives` makes of it, sooner. */
export function knownTruthCells(random: () => number, packsPerRevision: number, lags: TruncatedLag[]): LifeTable {
  const sums = new Map<string, Map<number, number>>();
  for (const { group, soldDay, failsAtAge, lodgedDay } of knownTruthLives(random, packsPerRevision)) {
    const isKnown = lodgedDay <= dataDay;
    const toldDay = soldDay + failsAtAge;
    if (isKnown) lags.push({ lag: lodgedDay - toldDay, longest: dataDay - toldDay });
    if (soldDay > dataDay || (soldDay === dataDay && !isKnown)) continue;
    const [exit, slack] = isKnown ? [failsAtAge, Math.min(MOST_SLACK_DAYS, dataDay - toldDay)] : [dataDay - soldDay, 0];
    const key = `${group} ${isKnown ? "failed" : "running"}`;
    const byAge = sums.get(key) ?? new Map<number, number>();
    sums.set(key, byAge);
    const age = exit * (MOST_SLACK_DAYS + 1) + slack;
    byAge.set(age, (byAge.get(age) ?? 0) + 1);
  }
  const cells = [...sums].flatMap(([key, byAge]) => {
    const [group = "", status] = key.split(" ");
    return [...byAge].map(
      ([age, packs]): LifeCell => ({
        line: "confirmed",
        group,
        stratum: "M",
        dispatched: true,
        entryDays: 0,
        exitDays: Math.floor(age / (MOST_SLACK_DAYS + 1)),
        slackDays: age % (MOST_SLACK_DAYS + 1),
        status: status === "failed" ? "failed" : "running",
        detail: null,
        packs,
      }),
    );
  });
  return { cells, excluded: [] };
}
