import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { DataTable } from "@/app/_components/data-table";
import { MainWays } from "@/app/_components/main-ways";

const ways = ["/reliability", "/bench", "/quarantine", "/incidents", "/money", "/danger"].map((href) => ({
  href,
  label: href.slice(1),
}));

function foldedOn(current: string, nav = ways): string[] {
  const markup = renderToStaticMarkup(<MainWays nav={nav} current={current} />);
  const [, folded = ""] = markup.split("<details");
  return [...folded.matchAll(/href="([^"]+)"/g)].map(([, href = ""]) => href);
}

test("on a telephone many ways fold, but never the page one is on nor the one where a danger is told", () => {
  expect(foldedOn("/money")).toEqual(["/quarantine", "/incidents"]);
  expect(foldedOn("/danger")).toEqual(["/quarantine", "/incidents", "/money"]);
  expect(foldedOn("/bench", ways.slice(0, 5))).toEqual([]);
});

const rowsOf = (count: number) => Array.from({ length: count }, (_, index) => ({ name: `pack ${index}` }));
const table = (count: number, entriesWhenNarrow: boolean) =>
  renderToStaticMarkup(
    <DataTable
      caption="Packs"
      columns={[{ head: "Pack", cell: ({ name }) => name }]}
      rows={rowsOf(count)}
      rowKey={({ name }) => name}
      whenEmpty="None."
      entriesWhenNarrow={entriesWhenNarrow}
    />,
  );

test("a long list of entries ends on a telephone with the question for the rest, and every row is on the page", () => {
  const long = table(158, true);
  expect(long).toContain("Show all 158");
  expect(long.match(/<tr /g)).toHaveLength(158);
  expect(long.match(/max-sm:group-not-has-/g)).toHaveLength(138);
  expect(table(25, true)).not.toContain("Show all");
  expect(table(158, false)).not.toContain("Show all");
});
