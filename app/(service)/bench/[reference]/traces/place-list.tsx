import { sayElapsed } from "@/lib/readings/elapsed-words";
import type { MarkedPlace } from "./marked-place";

/** Where in time each finding can be seen; with a hand to jump there, once the pictures can be looked into. */
export function PlaceList({
  places,
  onGo,
}: {
  places: readonly MarkedPlace[];
  onGo: ((place: MarkedPlace) => void) | null;
}) {
  if (places.length === 0) return <p className="text-sm text-soft">No finding has a single place in time.</p>;
  return (
    <ul aria-label="Places of the findings" className="divide-y divide-rule border border-rule bg-raised text-sm">
      {places.map((place) => (
        <li key={place.mark} className="flex flex-wrap items-center gap-x-3 px-3">
          <span className="font-bold text-accent">{place.mark}</span>
          <span className="min-w-0 flex-1 py-2">
            {place.title}: {place.says}, {sayPlace(place)}
          </span>
          {onGo === null ? null : (
            <button
              type="button"
              onClick={() => onGo(place)}
              className="min-h-11 cursor-pointer px-2 font-semibold text-accent underline underline-offset-4"
            >
              Go there
              <span className="sr-only">
                : {place.mark}, {place.title}
              </span>
            </button>
          )}
        </li>
      ))}
    </ul>
  );
}

function sayPlace({ fromS, toS, fromRow, toRow }: MarkedPlace): string {
  const rows = fromRow === toRow ? `row ${fromRow + 1}` : `rows ${fromRow + 1} to ${toRow + 1}`;
  if (toS === fromS) return `after ${sayElapsed(Math.max(0, fromS))}, ${rows}`;
  return `from ${sayElapsed(Math.max(0, fromS))} to ${sayElapsed(Math.max(0, toS))}, ${rows}`;
}
