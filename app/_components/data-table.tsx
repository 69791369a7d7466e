import type { ReactNode } from "react";

export interface Column<Row> {
  readonly head: string;
  readonly cell: (row: Row) => ReactNode;
  /** Numbers stand under one another by their last digit. */
  readonly numeric?: boolean;
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
}

/** A table that scrolls within itself when it is wider than its place; the page never scrolls sideways. */
export function DataTable<Row>({ caption, captionHidden, columns, rows, rowKey, whenEmpty }: DataTableProps<Row>) {
  if (rows.length === 0) return <p className="text-soft">{whenEmpty}</p>;
  return (
    // A region that scrolls must be reachable by keyboard (WCAG 2.1.1).
    // biome-ignore lint/a11y/noNoninteractiveTabindex: see above
    <section aria-label={caption} tabIndex={0} className="card overflow-x-auto">
      <table className="w-full border-collapse text-left">
        <caption className={captionHidden ? "sr-only" : "caption-print px-3 py-2 text-left"}>{caption}</caption>
        <thead className="bg-sunk">
          <tr>
            {columns.map((column) => (
              <th key={column.head} scope="col" className={`caption-print px-3 py-2 ${align(column)}`}>
                {column.head}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <tr key={rowKey(row)} className="border-t border-rule align-top">
              {columns.map((column, position) =>
                position === 0 ? (
                  <th key={column.head} scope="row" className={`px-3 py-2 font-semibold ${align(column)}`}>
                    {column.cell(row)}
                  </th>
                ) : (
                  <td key={column.head} className={`px-3 py-2 ${align(column)}`}>
                    {column.cell(row)}
                  </td>
                ),
              )}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function align<Row>({ numeric }: Column<Row>): string {
  return numeric ? "text-right whitespace-nowrap" : "";
}
