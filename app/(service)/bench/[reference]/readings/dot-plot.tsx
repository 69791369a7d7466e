import type { GroupDot } from "@/lib/diagnosis/group-dot";
import { DOT_HEIGHT, DOT_WIDTH, type DotLine, dotScale } from "./dot-scale";

interface DotPlotProps {
  readonly label: string;
  readonly dots: readonly GroupDot[];
  readonly lines: readonly DotLine[];
  readonly fromZero: boolean;
  /** What the hollow diamonds stand for; null where nothing is set beside. */
  readonly besideWords: string | null;
  readonly valueWords: string;
}

/** One dot a group with its 95 % limits, lines that matter drawn across, and hollow diamonds for what it is set beside. */
export function DotPlot({ label, dots, lines, fromZero, besideWords, valueWords }: DotPlotProps) {
  const scale = dotScale(dots, lines, fromZero);
  return (
    <div className="space-y-2">
      <div className="relative mr-2 ml-12" style={{ height: DOT_HEIGHT }}>
        <svg
          role="img"
          aria-label={label}
          viewBox={`0 0 ${DOT_WIDTH} ${DOT_HEIGHT}`}
          preserveAspectRatio="none"
          className="absolute inset-0 size-full overflow-visible"
        >
          {scale.ticks.map((tick) => (
            <line
              key={tick}
              x1={0}
              x2={DOT_WIDTH}
              y1={scale.y(tick)}
              y2={scale.y(tick)}
              stroke="var(--rule)"
              vectorEffect="non-scaling-stroke"
            />
          ))}
          {lines.map(({ at }) => (
            <line
              key={at}
              x1={0}
              x2={DOT_WIDTH}
              y1={scale.y(at)}
              y2={scale.y(at)}
              stroke="var(--danger)"
              strokeWidth={1.5}
              strokeDasharray="8 4"
              vectorEffect="non-scaling-stroke"
            />
          ))}
          {dots.map(({ group, limits }, place) =>
            limits === null ? null : (
              <line
                key={group}
                x1={scale.x(place)}
                x2={scale.x(place)}
                y1={scale.y(limits[0])}
                y2={scale.y(limits[1])}
                stroke="var(--ink)"
                strokeWidth={1.5}
                vectorEffect="non-scaling-stroke"
              />
            ),
          )}
        </svg>
        {/* Dots keep their shape whatever the width, so they are not stretched with the drawing. */}
        <div aria-hidden className="text-xs leading-none">
          {scale.ticks.map((tick) => (
            <span key={tick} className="absolute right-full mr-1.5 -translate-y-1/2" style={{ top: scale.y(tick) }}>
              {tick.toFixed(scale.decimals).replace("-", "−")}
            </span>
          ))}
          {dots.map(({ group, beside }, place) =>
            beside === null ? null : (
              <span
                key={`beside-${group}`}
                className="absolute size-2.5 -translate-1/2 rotate-45 border-[1.5px] border-accent bg-raised"
                style={{ left: across(place, dots.length), top: scale.y(beside) }}
              />
            ),
          )}
          {dots.map(({ group, value, isMarked }, place) => (
            <span
              key={group}
              className={`absolute -translate-1/2 ${isMarked ? "size-3 bg-danger" : "size-2 rounded-full bg-ink"}`}
              style={{ left: across(place, dots.length), top: scale.y(value) }}
            />
          ))}
        </div>
      </div>
      <div aria-hidden className="relative mr-2 ml-12 h-4 border-t border-ink text-xs">
        {dots.map(({ group, isMarked }, place) => (
          <span
            key={group}
            className={`absolute top-0.5 -translate-x-1/2 ${isMarked ? "font-bold" : ""} ${place % 2 === 1 && !isMarked ? "hidden sm:inline" : ""}`}
            style={{ left: across(place, dots.length) }}
          >
            {group}
          </span>
        ))}
      </div>
      <ul className="flex flex-wrap gap-x-5 gap-y-1 text-xs">
        <li>Dot: {valueWords}, with its limits (95 in 100)</li>
        <li>
          <span aria-hidden className="mr-1 inline-block size-2.5 bg-danger" />
          Square: stands out
        </li>
        {besideWords === null ? null : (
          <li>
            <span aria-hidden className="mr-1.5 inline-block size-2 rotate-45 border-[1.5px] border-accent" />
            {besideWords}
          </li>
        )}
        {lines.map(({ at, words }) => (
          <li key={at}>Dashed line: {words}</li>
        ))}
      </ul>
    </div>
  );
}

function across(place: number, count: number): string {
  return `${((place + 0.5) / Math.max(1, count)) * 100}%`;
}
