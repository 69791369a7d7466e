import { sayExpected } from "./forecast-sentences";
import { grouped } from "./plain-share";
import type { ReserveSteps, RollForward, Verdict } from "./roll-forward";

const verdictWords: Readonly<Record<Verdict, string>> = {
  inside: "within the limits",
  above: "more than the limits allow",
  below: "fewer than the limits allow",
  open: "cannot tell yet",
};

/** What came against what was to be expected, in words; behind what came. */
export function sayAgainst({ period, verdict }: Pick<RollForward, "period" | "verdict">): string {
  if (period === null || verdict === null) return "; nothing was foretold to hold it against";
  const because = verdict === "open" ? ": it hangs on the returns not decided" : "";
  return `; expected ${sayExpected(period.expected)}, between ${grouped(period.lower)} and ${grouped(period.upper)}: ${verdictWords[verdict]}${because}`;
}

/** The answer of the page: how many revisions came out as foretold. */
export function rollSentence(revisions: readonly RollForward[]): string {
  const told = revisions.flatMap(({ verdict }) => (verdict === null ? [] : [verdict]));
  if (told.length === 0) return "For no revision was anything foretold that could be held against what came.";
  const count = (one: Verdict) => told.filter((verdict) => verdict === one).length;
  const parts = [
    `${count("inside")} of ${told.length} ${told.length === 1 ? "revision" : "revisions"} came out within the limits`,
    ...(count("above") > 0 ? [`${count("above")} above`] : []),
    ...(count("below") > 0 ? [`${count("below")} below`] : []),
    ...(count("open") > 0 ? [`of ${count("open")} it cannot be told yet`] : []),
  ];
  return `${parts.join(", ")}.`;
}

/** Sums of the steps of all that have them; null where none has. */
export function summedSteps(all: readonly (ReserveSteps | null)[]): ReserveSteps | null {
  const known = all.flatMap((steps) => (steps === null ? [] : [steps]));
  if (known.length === 0) return null;
  const sum = (key: keyof ReserveSteps) => known.reduce((total, steps) => total + steps[key], 0);
  return {
    opening: sum("opening"),
    arisen: sum("arisen"),
    changeOfNumber: sum("changeOfNumber"),
    changeOfCost: sum("changeOfCost"),
    changeOfTelling: sum("changeOfTelling"),
    soldSince: sum("soldSince"),
    closing: sum("closing"),
  };
}

/** Which revisions the sums leave out, and which are in one end alone; empty where all are in both. */
export function untoldSentence(
  rows: readonly { readonly group: string; readonly told: { readonly opening: boolean; readonly closing: boolean } }[],
): string {
  const named = (opening: boolean, closing: boolean) =>
    rows.flatMap(({ group, told }) => (told.opening === opening && told.closing === closing ? [group] : []));
  const say = (groups: readonly string[], what: string) =>
    groups.length === 0 ? [] : [`${groups.join(", ")}: ${what}.`];
  return [
    ...say(named(false, true), "could not be told then and can be now, so all of it is a change of what can be told"),
    ...say(named(true, false), "could be told then and cannot be now, so what was left of it is taken out"),
    ...say(named(false, false), "could not be told then and cannot be now, so in no sum"),
  ].join(" ");
}
