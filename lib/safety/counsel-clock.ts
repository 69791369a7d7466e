import { countryName } from "@/lib/transport/country-name";
import { houseRule } from "@/lib/transport/sourced-text";
import type { ReportingClock } from "./reporting-clock.schema";

/**
 * What stands in for the law of a country of which no clock is held: a question to counsel, which a named person answers like any
 * clock. Nobody here knows how short the time is there, so every hour counts.
 */
export function counselClock(country: string): ReportingClock {
  return {
    id: `ask-counsel-${country.toLowerCase()}`,
    place: countryName(country),
    name: "No clock is held: ask counsel which duties there are",
    countries: [country],
    lawOf: [],
    trigger: houseRule("That no clock is held says nothing about whether a duty to report exists there."),
    limit: { kind: "at-once" },
    limitInWords: houseRule("How short the time is there is not known here, so it is asked at once."),
    startsWith: "first-knowledge",
    authority: "whichever counsel names",
    zone: "UTC",
  };
}
