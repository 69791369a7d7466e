import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { MeanCountChart } from "@/app/_components/charts/mean-count-chart";

const words = { id: "m", title: "Returns", sentence: "How many.", axis: "months" };
const step = (ageDays: number, mean: number) => ({ ageDays, mean, lower: mean / 2, upper: mean * 2 });
const watched = [
  { months: 3, atRisk: 1200 },
  { months: 6, atRisk: 40 },
];

test("a mean count is drawn as steps with a band, and how many were watched stands beneath the marks", () => {
  const shown = renderToStaticMarkup(
    <MeanCountChart {...words} steps={[step(20, 1), step(90, 2)]} watched={watched} />,
  );
  expect(shown.match(/<path/g)).toHaveLength(4);
  expect(shown).toContain("1,200");
  expect(shown).not.toMatch(/NaN|undefined|Infinity/);
});

test("what lies beyond the last age looked at is not drawn, and without a step or a mark there is no picture", () => {
  const upTo = (steps: readonly ReturnType<typeof step>[]) =>
    renderToStaticMarkup(<MeanCountChart {...words} steps={steps} watched={watched} />);
  expect(upTo([step(20, 1), step(500, 9)])).toBe(upTo([step(20, 1)]));
  expect(upTo([])).toBe("");
  expect(renderToStaticMarkup(<MeanCountChart {...words} steps={[step(20, 1)]} watched={[]} />)).toBe("");
});
