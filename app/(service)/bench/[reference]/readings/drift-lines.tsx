import { scaleLinear } from "d3-scale";
import { line } from "d3-shape";
import type { DriftPicture } from "@/lib/diagnosis/drift-picture";
import type { GroupDot } from "@/lib/diagnosis/group-dot";

const WIDTH = 600;
const HEIGHT = 170;

type Drawn = Extract<DriftPicture, { readonly outcome: "drawn" }>;

/** The deviation of every group over the longest rest in grey, and the steepest fall with its points, slope and limits. */
export function DriftLines({ drift, dots }: { drift: Drawn; dots: readonly GroupDot[] }) {
  const worst = dots.reduce<GroupDot | null>((low, dot) => (low === null || dot.value < low.value ? dot : low), null);
  const all = drift.groups.flatMap(({ millivolt }) => millivolt.filter((value) => value !== null));
  if (worst === null || all.length === 0) return null;
  const lastDay = drift.days.at(-1) ?? 1;
  const x = scaleLinear([0, lastDay], [0, WIDTH]);
  const y = scaleLinear([Math.min(...all, 0), Math.max(...all, 0.5)], [HEIGHT, 0]).nice(4);
  const path = line<readonly [number, number | null]>()
    .digits(1)
    .defined(([, value]) => value !== null)
    .x(([day]) => x(day))
    .y(([, value]) => y(value ?? 0));
  const own = drift.groups[worst.group - 1]?.millivolt ?? [];
  const through = middleOf(drift.days, own);
  const at = (slope: number, day: number) => through.millivolt + slope * (day - through.day);
  const sloped = (slope: number) =>
    path([
      [0, at(slope, 0)],
      [lastDay, at(slope, lastDay)],
    ]) ?? "";
  return (
    <div>
      <p className="caption-print mb-2">At rest, deviation from the median group, mV</p>
      <div className="relative mr-2 ml-12" style={{ height: HEIGHT }}>
        <svg
          role="img"
          aria-label={`Deviation of every group at rest; group ${worst.group} falls fastest. The slopes stand in the table below.`}
          viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
          preserveAspectRatio="none"
          className="absolute inset-0 size-full overflow-hidden"
        >
          {y.ticks(4).map((tick) => (
            <line
              key={tick}
              x1={0}
              x2={WIDTH}
              y1={y(tick)}
              y2={y(tick)}
              stroke="var(--rule)"
              vectorEffect="non-scaling-stroke"
            />
          ))}
          {drift.groups.map(({ millivolt }, index) => (
            <path
              // biome-ignore lint/suspicious/noArrayIndexKey: a group is its place
              key={index}
              d={path(pairs(drift.days, millivolt)) ?? ""}
              fill="none"
              stroke="var(--edge)"
              strokeOpacity={0.5}
              vectorEffect="non-scaling-stroke"
            />
          ))}
          <path
            d={path(pairs(drift.days, own)) ?? ""}
            fill="none"
            stroke="var(--ink)"
            strokeWidth={2}
            vectorEffect="non-scaling-stroke"
          />
          <path
            d={sloped(worst.value)}
            fill="none"
            stroke="var(--accent)"
            strokeWidth={2}
            strokeDasharray="8 4"
            vectorEffect="non-scaling-stroke"
          />
          {(worst.limits ?? []).map((slope) => (
            <path
              key={slope}
              d={sloped(slope)}
              fill="none"
              stroke="var(--accent)"
              strokeDasharray="2 3"
              vectorEffect="non-scaling-stroke"
            />
          ))}
        </svg>
        <div aria-hidden className="text-xs leading-none">
          {y.ticks(4).map((tick) => (
            <span key={tick} className="absolute right-full mr-1.5 -translate-y-1/2" style={{ top: y(tick) }}>
              {String(tick).replace("-", "−")}
            </span>
          ))}
        </div>
      </div>
      <div aria-hidden className="mr-2 ml-12 flex justify-between border-t border-ink pt-0.5 text-xs">
        <span>0 days</span>
        <span>{lastDay.toFixed(1)} days</span>
      </div>
      <p className="mt-1 text-xs">
        Full line: group {worst.group}, which falls fastest. Dashed: its slope; dotted: the limits of the slope. Grey:
        the other groups.
      </p>
    </div>
  );
}

function pairs(days: readonly number[], millivolt: readonly (number | null)[]): [number, number | null][] {
  return days.map((day, point) => [day, millivolt[point] ?? null]);
}

/** The middle of the points, which the line is drawn through. */
function middleOf(days: readonly number[], millivolt: readonly (number | null)[]) {
  const known = millivolt.flatMap((value, point) => (value === null ? [] : [{ day: days[point] ?? 0, value }]));
  const sum = known.reduce((total, { day, value }) => ({ day: total.day + day, value: total.value + value }), {
    day: 0,
    value: 0,
  });
  const count = Math.max(1, known.length);
  return { day: sum.day / count, millivolt: sum.value / count };
}
