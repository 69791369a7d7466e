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

/** A letter, or several, and where it stands in the picture. */
export interface MarkLabel {
  readonly text: string;
  readonly at: number;
}

/** Letters that would be drawn over each other stand side by side: those that begin within `room` of the first of them. */
export function markLabels(
  marks: readonly { readonly mark: string; readonly from: number }[],
  room: number,
): MarkLabel[] {
  const labels: { text: string; at: number }[] = [];
  for (const { mark, from } of marks.toSorted((a, b) => a.from - b.from)) {
    const last = labels.at(-1);
    if (last !== undefined && from - last.at < room) last.text += ` ${mark}`;
    else labels.push({ text: mark, at: from });
  }
  return labels;
}
