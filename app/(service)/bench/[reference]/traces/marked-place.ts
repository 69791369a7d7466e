import type { FindingPlace } from "@/lib/diagnosis/finding-places";

/** A place in the log with the letter that marks it in the pictures and the finding it belongs to. */
export interface MarkedPlace extends FindingPlace {
  readonly mark: string;
  readonly title: string;
}

/** Letters in the order of the findings, a to z. */
export function markPlaces(places: readonly FindingPlace[], titles: readonly string[]): MarkedPlace[] {
  return places
    .filter(({ finding }) => finding < titles.length)
    .slice(0, 26)
    .map((place, index) => ({
      ...place,
      mark: String.fromCharCode(97 + index),
      title: titles[place.finding] ?? "",
    }));
}
