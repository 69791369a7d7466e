import type { MonthCell, MonthTriangle } from "@/lib/reliability/month-triangle";
import { ChartFigure } from "./chart-figure";
import { ChartPicture } from "./chart-picture";

interface MonthGridProps {
  /** Unique on the page. */
  readonly id: string;
  readonly title: string;
  readonly description: string;
  readonly caption: string;
  readonly triangle: MonthTriangle;
  /** Where the packs of a cell stand. */
  readonly hrefOf: (cell: MonthCell) => string;
}

interface Form {
  readonly name: "compact" | "roomy";
  readonly width: number;
  readonly fontSize: number;
  readonly left: number;
  readonly months: number;
}

/** More months in service than these cannot be drawn with legible numbers; the table has all. */
const compact: Form = { name: "compact", width: 340, fontSize: 11, left: 54, months: 10 };
const roomy: Form = { name: "roomy", width: 760, fontSize: 12, left: 72, months: 24 };
/** A finger needs so much, in CSS pixels (WCAG 2.2, 2.5.8). */
const LEAST_CELL_HEIGHT = 24;
/** The youngest months of sale; older ones stand in the table. */
const MOST_ROWS = 36;

/** Failures in 1,000 pack-months from which a cell is drawn in the next darker shade. Shares of the highest settled cell. */
const SHADES = [0, 0.25, 0.5, 0.75] as const;

/** Months of sale by months in service, each cell with its failures. Shade, hatching and edge read without colour. */
export function MonthGrid(props: MonthGridProps) {
  return (
    <ChartFigure
      compact={<Grid {...props} form={compact} />}
      roomy={<Grid {...props} form={roomy} />}
      caption={props.caption}
    />
  );
}

function Grid({ id, title, description, triangle, hrefOf, form }: MonthGridProps & { readonly form: Form }) {
  const rows = triangle.rows.slice(-MOST_ROWS);
  const months = Math.min(form.months, Math.max(1, triangle.months));
  const cell = {
    width: Math.min(44, (form.width - form.left - 4) / months),
    height: LEAST_CELL_HEIGHT * (form.name === "compact" ? 1.15 : 1),
  };
  const top = form.fontSize * 3;
  const settled = rows.flatMap(({ cells }) => cells.filter(({ isComplete, month }) => isComplete && month <= months));
  const highest = settled.reduce((most, { rate }) => Math.max(most, rate.rate), 0);
  const hatch = `${id}-${form.name}-hatch`;
  return (
    <ChartPicture
      id={`${id}-${form.name}`}
      title={title}
      description={description}
      width={form.width}
      height={top + rows.length * cell.height + 4}
      fontSize={form.fontSize}
      holdsLinks
    >
      <pattern id={hatch} width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
        <rect width="6" height="6" fill="var(--paper-raised)" />
        <line x1="0" y1="0" x2="0" y2="6" stroke="var(--rule)" strokeWidth="3" />
      </pattern>
      <text x={form.left} y={form.fontSize} fill="var(--ink-soft)">
        month in service
      </text>
      {Array.from({ length: months }, (_, i) => i + 1).map((month) => (
        <text key={month} x={form.left + (month - 0.5) * cell.width} y={top - form.fontSize * 0.5} textAnchor="middle">
          {month}
        </text>
      ))}
      {rows.map(({ soldIn, cells }, row) => {
        const y = top + row * cell.height;
        return (
          <g key={soldIn}>
            <text x={form.left - 6} y={y + cell.height / 2} dy="0.35em" textAnchor="end">
              {soldIn}
            </text>
            {cells
              .filter(({ month }) => month <= months)
              .map((one) => (
                <Cell
                  key={one.month}
                  one={one}
                  href={hrefOf(one)}
                  x={form.left}
                  y={y}
                  size={cell}
                  highest={highest}
                  hatch={hatch}
                />
              ))}
          </g>
        );
      })}
    </ChartPicture>
  );
}

interface CellProps {
  readonly one: MonthCell;
  readonly href: string;
  readonly x: number;
  readonly y: number;
  readonly size: { readonly width: number; readonly height: number };
  readonly highest: number;
  readonly hatch: string;
}

/** A way to the cell's packs for a finger or a mouse; by keyboard the same ways lie in the table, without some hundred stops here. */
function Cell({ one, href, x, y, size, highest, hatch }: CellProps) {
  const { soldIn, month, failures, atRisk, rate, isComplete, standsOut } = one;
  const shade = highest > 0 && failures > 0 ? SHADES.findLastIndex((from) => rate.rate / highest > from) : -1;
  const left = x + (month - 1) * size.width;
  const inset = standsOut ? 1.5 : 0.5;
  const isDark = isComplete && shade >= 2;
  const spoken = `Sold in ${soldIn}, month ${month} in service: ${failures} of ${atRisk} failed`;
  return (
    <a href={href} tabIndex={-1} aria-label={spoken} className="no-underline">
      <rect
        x={left + inset}
        y={y + inset}
        width={size.width - 2 * inset}
        height={size.height - 2 * inset}
        fill={isComplete ? "var(--paper-raised)" : `url(#${hatch})`}
        stroke={standsOut ? "var(--ink)" : "var(--rule)"}
        strokeWidth={standsOut ? 2.5 : 1}
      />
      {isComplete && shade >= 0 ? (
        <rect
          x={left + inset}
          y={y + inset}
          width={size.width - 2 * inset}
          height={size.height - 2 * inset}
          fill="var(--ink)"
          fillOpacity={[0.1, 0.22, 0.62, 0.85][shade] ?? 0}
        />
      ) : null}
      <text
        x={left + size.width / 2}
        y={y + size.height / 2}
        dy="0.35em"
        textAnchor="middle"
        fill={isDark ? "var(--paper-raised)" : failures === 0 ? "var(--ink-soft)" : "var(--ink)"}
        fontWeight={failures > 0 ? 700 : 400}
      >
        {failures}
      </text>
    </a>
  );
}
