import { deviationClasses, fillOpacity } from "./deviation-scale";

/** What fill and hatching mean, with the unit. */
export function DeviationLegend() {
  return (
    <div className="space-y-1 text-xs">
      <dl className="flex flex-wrap gap-x-5 gap-y-1">
        {deviationClasses.map(({ words }, size) => (
          <div key={words} className="flex items-center gap-1.5">
            <dt className="flex gap-px">
              <Swatch colour="var(--series-3)" opacity={fillOpacity[size] ?? 0} isHatched={false} />
              <Swatch colour="var(--series-4)" opacity={fillOpacity[size] ?? 0} isHatched />
            </dt>
            <dd>{words}</dd>
          </div>
        ))}
      </dl>
      <p>Plain: above the median group. Striped: below it. Slanted lines: not logged.</p>
    </div>
  );
}

function Swatch({ colour, opacity, isHatched }: { colour: string; opacity: number; isHatched: boolean }) {
  return (
    <svg width="16" height="12" aria-hidden="true" className="border border-edge">
      <rect width="16" height="12" fill={colour} fillOpacity={opacity} />
      {isHatched ? <path d="M0 3H16M0 8H16" stroke="var(--paper-raised)" strokeWidth="1.4" /> : null}
    </svg>
  );
}
