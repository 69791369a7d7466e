import type { OpenLimits } from "@/lib/stats/defective-fraction-limits";
import type { Limits } from "@/lib/stats/survival-limits";
import type { Weibayes } from "@/lib/stats/weibayes";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { sayDate } from "@/lib/warranty/say-date";
import type { GroupLife, LifeModel, SettledLives } from "./group-life";
import { hazardWords } from "./hazard-words";
import { DAYS_PER_MONTH, daysAtMonths, MILESTONE_MONTHS } from "./months-in-service";
import { grouped, inHundred, inHundredBetween } from "./plain-share";

/** The law of the lives of a group, for a reader who has never heard of Weibull, with the numbers for one who has. */
export function lawSentence(model: LifeModel): string {
  switch (model.kind) {
    case "weibull": {
      const { failures, shape, scale, limits } = model;
      return (
        `${hazardWords(limits.shape)} Weibull distribution fitted to ${grouped(failures)} failures: shape ${shape.toFixed(2)} ` +
        `(95 % limits ${between(limits.shape, 2)}), scale ${months(scale)} (${months(limits.scale.lower)} to ${months(limits.scale.upper)}), by likelihood ratio.`
      );
    }
    case "part-can-fail": {
      const { share, shape, scale, p } = model.fit;
      const { limits } = model;
      return (
        `Only a part of these packs seems able to fail in this way: ${inHundred(share)} (${inHundredBetween(limits.share.lower, limits.share.upper)}), ` +
        `from ${grouped(model.failures)} failures. A single law for all packs explains them worse (p = ${p.toPrecision(2)}). ` +
        `For that part: Weibull shape ${shape.toFixed(2)} (95 % limits ${openBetween(limits.shape, (one) => one.toFixed(2))}), scale ${months(scale)} (${openBetween(limits.scale, months)}), by profile likelihood. Look for what they have in common.`
      );
    }
    case "assumed-shape": {
      const { fit, shapeFrom, atItsLimits } = model;
      const beside =
        atItsLimits.length === 0
          ? ` How far that shape may be off the failures of the others do not tell.`
          : ` The others' shape is itself known only between limits; at ${atItsLimits.map((one) => `${one.shape.toFixed(2)} the ${scaleWords(one)}`).join(", at ")}.`;
      return `With ${fit.failures === 0 ? "no failure" : `only ${fit.failures} ${fit.failures === 1 ? "failure" : "failures"}`} it has no shape of its own. Taking shape ${fit.shape.toFixed(2)} from ${shapeFrom}, the ${scaleWords(fit)}.${beside} All rests on that shape.`;
    }
    case "refused":
      return `No law is given. ${model.sentence}`;
    default: {
      const never: never = model;
      return never;
    }
  }
}

/** On what law, picture and rate rest, and why not on all that is known. */
export function settledLawSentence({ days, failures, failuresLeftOut }: SettledLives, dataDate: CalendarDate): string {
  if (days === 0) return "";
  const all = grouped(failures + failuresLeftOut);
  return `Law, picture and rate rest on what was told up to ${sayDate(plusDays(dataDate, -days))}, ${grouped(days)} days before the last data: ${grouped(failures)} of ${all} failures. What was told later is not all confirmed yet and would read as packs that fail less of late.`;
}

/** The law and the rate once more, were the returns that wait for too long failures; empty where there is none. */
export function lawIfFailuresSentence({ ifFailures, settled }: Pick<GroupLife, "ifFailures" | "settled">): string {
  if (ifFailures === null) return "";
  const { undecided, model } = ifFailures;
  const one = undecided === 1;
  const what = `${grouped(undecided)} of its returns ${one ? "has" : "have"} been undecided for ${grouped(settled.days)} days or more and ${one ? "stands in law, picture and rate as a pack" : "stand in law, picture and rate as packs"} that had not failed when ${one ? "it was" : "they were"} told.`;
  // A shape that the others lend is fitted to them with such returns of theirs as failures too.
  const lent =
    model.kind === "assumed-shape" ? `, and such returns of the others of its model with ${one ? "it" : "them"}` : "";
  return `${what} Were ${one ? "it a failure" : "they failures"}${lent}: ${lawSentence(model)} ${rateSentence(ifFailures)}`;
}

/** "scale is 40 months (95 % limits 20 to 90 months)"; without a failure only a lower limit is known. */
function scaleWords({ scale, lower, upper }: Weibayes): string {
  if (scale === null || upper === null) return `scale is above ${months(lower)} (lower 95 % limit of two)`;
  return `scale is ${months(scale)} (95 % limits ${grouped(Math.round(lower / DAYS_PER_MONTH))} to ${months(upper)})`;
}

function openBetween({ lower, upper }: OpenLimits, words: (limit: number) => string): string {
  if (lower === null) return upper === null ? "none" : `up to ${words(upper)}`;
  return upper === null ? `${words(lower)} or more` : `${words(lower)} to ${words(upper)}`;
}

function between({ lower, upper }: Limits, digits: number): string {
  return `${lower.toFixed(digits)} to ${upper.toFixed(digits)}`;
}

function months(days: number): string {
  return `${grouped(Math.round(days / DAYS_PER_MONTH))} months`;
}

export function rateSentence({ rate }: Pick<GroupLife, "rate">): string {
  if (rate === null) return "No pack has been in use yet, so there is no rate.";
  return (
    `${grouped(rate.count)} failures in ${grouped(Math.round(rate.exposure * 1000))} pack-months in use: ` +
    `${rate.rate.toFixed(2)} in 1,000 pack-months (exact 95 % limits ${rate.lower.toFixed(2)} to ${rate.upper.toFixed(2)}). ` +
    "A rate like this says enough only where packs fail equally often at all ages."
  );
}

/** The share failed with what is still on its way allowed for, at the oldest milestone that the curve reaches. */
export function lagCorrectedSentence({
  lagCorrected: { steps, endsBeforeAge },
}: Pick<GroupLife, "lagCorrected">): string {
  const last = steps.at(-1);
  if (last === undefined) return "No failure is known yet, so there is nothing to correct.";
  const milestone = MILESTONE_MONTHS.findLast((age) => daysAtMonths(age) <= last.age) ?? null;
  const at = milestone === null ? last : (steps.findLast(({ age }) => age <= daysAtMonths(milestone)) ?? last);
  const age = milestone === null ? `${Math.round(last.age)} days` : `${milestone} months`;
  const end =
    endsBeforeAge === null ? "" : ` Beyond ${Math.round(endsBeforeAge)} days too little is known yet to correct.`;
  return `With the failures that are on their way or undecided allowed for, ${inHundred(1 - at.survival)} have failed by ${age} (${inHundredBetween(1 - at.upper, 1 - at.lower)}).${end}`;
}
