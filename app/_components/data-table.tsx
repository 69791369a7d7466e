import type { ReactNode } from "react";

export interface Column<Row> {
  readonly head: string;
  readonly cell: (row: Row) => ReactNode;
  /** Numbers stand under one another by their last digit. */
  readonly numeric?: boolean;
  /** Where rows are entries on a phone: two of these stand beside each other, as two numbers do. */
  readonly short?: boolean;
}

interface DataTableProps<Row> {
  readonly caption: string;
  /** The caption is always there for those who do not see the heading above it. */
  readonly captionHidden?: boolean;
  /** The first column names the row. */
  readonly columns: readonly Column<Row>[];
  readonly rows: readonly Row[];
  readonly rowKey: (row: Row) => string;
  readonly whenEmpty: string;
  /**
   * On a phone each row is an entry of a card, every cell with its head as a small caption above it: for rows that have to be read
   * whole; the later ones of a long list on request. Without it a wide table scrolls within itself.
   */
  readonly entriesWhenNarrow?: boolean;
}

/** Entries a telephone shows before it is asked for the rest: some five screens of them. */
const ENTRIES_IN_SIGHT = 20;
/** Rows that are not worth a question. */
const FEW_MORE = 5;

/** A table that scrolls within itself when it is wider than its place; the page never scrolls sideways. */
export function DataTable<Row>({
  caption,
  captionHidden,
  columns,
  rows,
  rowKey,
  whenEmpty,
  entriesWhenNarrow = false,
}: DataTableProps<Row>) {
  const narrow = entriesWhenNarrow ? entryClasses : plainClasses;
  if (rows.length === 0) return <p className="text-soft">{whenEmpty}</p>;
  const isLong = entriesWhenNarrow && rows.length > ENTRIES_IN_SIGHT + FEW_MORE;
  return (
    // A region that scrolls must be reachable by keyboard (WCAG 2.1.1).
    // biome-ignore lint/a11y/noNoninteractiveTabindex: see above
    <section aria-label={caption} tabIndex={0} className="group/table card overflow-x-auto">
      <table className={`w-full border-collapse text-left ${narrow.block}`}>
        <caption className={captionHidden ? "sr-only" : `caption-print px-3 py-2 text-left ${narrow.block}`}>
          {caption}
        </caption>
        <thead className={`bg-sunk ${narrow.heads}`}>
          <tr>
            {columns.map((column) => (
              <th key={column.head} scope="col" className={`caption-print px-3 py-2 ${align(column)}`}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody className={narrow.block}>
          {rows.map((row, index) => (
            <tr
              key={rowKey(row)}
              className={`border-t border-rule align-baseline ${narrow.row} ${isLong && index >= ENTRIES_IN_SIGHT ? narrow.later : ""}`}
            >
              {columns.map((column, position) => {
                const cell = column.cell(row);
                return position === 0 ? (
                  <th
                    key={column.head}
                    scope="row"
                    className={`px-3 py-2 font-semibold ${align(column)} ${narrow.whole}`}
                  >
                    {cell}
                  </th>
                ) : (
                  <td
                    key={column.head}
                    className={`px-3 py-2 ${align(column)} ${cell === "" ? narrow.none : column.numeric || column.short ? narrow.half : narrow.whole}`}
                  >
                    {entriesWhenNarrow ? (
                      <span aria-hidden="true" className="caption-print block sm:hidden">
                        {column.head}
                      </span>
                    ) : null}
                    {cell}
                  </td>
                );
              })}
            </tr>
          ))}
        </tbody>
      </table>
      {isLong ? (
        <label className="flex min-h-12 cursor-pointer items-center gap-3 border-t border-rule px-3 font-semibold sm:hidden">
          <input type="checkbox" data-all-entries className="size-5" />
          Show all {rows.length}
        </label>
      ) : null}
    </section>
  );
}

const plainClasses = { block: "", heads: "", row: "", whole: "", half: "", none: "", later: "" };
const entryClasses = {
  block: "max-sm:block",
  heads: "max-sm:sr-only",
  row: "max-sm:grid max-sm:grid-cols-2 max-sm:py-1",
  whole: "max-sm:col-span-2 max-sm:py-1",
  half: "max-sm:py-1 max-sm:text-left max-sm:whitespace-normal",
  none: "max-sm:hidden",
  later: "max-sm:group-not-has-[[data-all-entries]:checked]/table:hidden",
};

function align<Row>({ numeric }: Column<Row>): string {
  return numeric ? "text-right whitespace-nowrap" : "";
}
