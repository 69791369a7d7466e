import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { SurvivalChart } from "@/app/_components/charts/survival-chart";
import { SurvivalTable } from "@/app/_components/charts/survival-table";
import { type GroupReport, groupReports } from "@/lib/reliability/group-report";
import { tallyLives } from "@/lib/reliability/tally-lives";
import { heldWords } from "@/lib/stats/coverage-measurements";
import { afterSale, failedAfter, packsLike, unitHistory } from "@/tests/support/pack-dates";

const reports: GroupReport[] = groupReports(
  "revision",
  ["A", "B", "C"],
  tallyLives([
    ...Array.from({ length: 6 }, (_, i) =>
      unitHistory(`F${i}`, {
        failure: failedAfter(100 + i),
        firstReturn: { toldOn: afterSale(100 + i), outcome: "confirmed" },
      }),
    ),
    ...packsLike(90),
    ...packsLike(15, { group: "B", dataDate: afterSale(200) }),
  ]),
);

function picture(highlighted: string[] = ["A"]): string {
  return renderToStaticMarkup(
    <SurvivalChart id="age" title="Failed by age" reports={reports} highlighted={highlighted} />,
  );
}

test("each picture is an image with a title and the sentences of the highlighted revisions as description", () => {
  const markup = picture();
  for (const form of ["compact", "roomy"]) {
    expect(markup).toContain(`role="img" aria-labelledby="age-${form}-title age-${form}-description"`);
    expect(markup).toContain(`<title id="age-${form}-title">Failed by age</title>`);
    expect(markup).toContain(`<desc id="age-${form}-description">${reports[0]?.sentence}</desc>`);
  }
});

test("the drawing scales with its place and runs no script", () => {
  const markup = picture();
  expect(markup.match(/viewBox="0 0 (340|760) /g)).toHaveLength(2);
  expect(markup).not.toMatch(/<script|onclick|NaN|Infinity|undefined/);
});

test("curves differ by dash and by the name at their end, not by colour alone", () => {
  const markup = picture();
  const dashes = [...markup.matchAll(/<line x2="18" stroke="([^"]+)"[^>]*stroke-dasharray="([^"]+)"/g)].map(
    (m) => m[2],
  );
  expect(dashes.slice(0, 3)).toEqual([...new Set(dashes)]);
  expect(markup).toMatch(/paint-order="stroke"[^>]*>A<\/text>/);
  expect(markup).toMatch(/paint-order="stroke"[^>]*>B<\/text>/);
});

test("a curve resting on fewer than 20 packs is grey from end to end, one resting on 90 is not", () => {
  const only = (report: GroupReport | undefined) =>
    renderToStaticMarkup(<SurvivalChart id="x" title="t" reports={report ? [report] : []} highlighted={[]} />);
  expect(only(reports[1])).toContain('data-grey="true"');
  expect(only(reports[1])).not.toContain('data-grey="false"');
  expect(only(reports[0])).toContain('data-grey="false"');
});

test("only highlighted curves have a band of limits", () => {
  expect(picture([]).match(/opacity="0.16"/g)).toBeNull();
  expect(picture(["A"]).match(/opacity="0.16"/g)?.length).toBeGreaterThan(0);
});

test("where late reports are allowed for the caption says what the band held, and the dotted line is what is confirmed", () => {
  expect(picture()).not.toContain('data-line="confirmed"');
  expect(picture()).toContain("The shaded band has the 95 % limits of the table, at each age by itself.");
  const late = reports.map((report) => ({
    ...report,
    confirmedSoFar: report.curve.steps.map(({ age }) => ({ ageDays: age, probability: 0 })),
  }));
  const markup = renderToStaticMarkup(<SurvivalChart id="x" title="t" reports={late} highlighted={["A"]} />);
  expect(markup).toContain('data-line="confirmed"');
  expect(markup).toContain(`where it is not grey it held the true share ${heldWords("drawnBand")}`);
  expect(markup).toContain(`with about 60 delays it held ${heldWords("youngDrawnBand")}`);
});

test("the row under the axis counts the packs at risk at each mark", () => {
  const row = picture().match(/font-weight="700">A<\/text>(<text[^>]*>[0-9,]+<\/text>)+/)?.[0];
  const numbers = [...(row ?? "").matchAll(/middle">([0-9,]+)</g)].map((m) => m[1]);
  // 96 packs from the start, six fail from day 100 on, the rest leaves on day 400: marks at 0, 3, 6, 9, 12, 18 months.
  expect(numbers).toEqual(["96", "96", "90", "90", "90", "0"]);
});

test("without any exposure there is a sentence in place of a picture", () => {
  const empty = reports.slice(2);
  const markup = renderToStaticMarkup(<SurvivalChart id="x" title="t" reports={empty} highlighted={[]} />);
  expect(markup).toBe('<p class="text-soft">No pack has been in use yet, so there is nothing to draw.</p>');
});

test("the table says the same numbers in words, its doubts and the naive ratio by its name", () => {
  const markup = renderToStaticMarkup(<SurvivalTable caption="Failed by age" reports={reports} />);
  expect(markup).toContain("6.3 in 100");
  expect(markup).toContain("6 failures<br/>90 at risk");
  expect(markup).toContain("Cannot tell yet: only 15 packs have reached that age.");
  const [table = "", beside = ""] = markup.split("<details>");
  expect(table).not.toContain("Came back");
  expect(beside).toContain("Came back, whatever was found: 6.3 in 100");
  expect(markup).toContain("naive: ignores age");
  expect(markup).toContain("6 / 96 = 6.3 in 100");
});
