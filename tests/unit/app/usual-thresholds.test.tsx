import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { HolidaysPart } from "@/app/(safety)/incidents/holidays-part";
import { UsualThresholds } from "@/app/(service)/thresholds/[model]/usual-thresholds";
import { namedThresholds } from "@/lib/diagnosis/threshold-fields";

test("whoever reads that the usual thresholds hold can read each of them, with its value and where it comes from", () => {
  const page = renderToStaticMarkup(<UsualThresholds />);
  expect(namedThresholds.length).toBeGreaterThan(50);
  const escaped = (text: string) => renderToStaticMarkup(text);
  for (const { label, source } of namedThresholds) {
    expect(page).toContain(escaped(label));
    expect(page).toContain(escaped(source));
  }
});

test("no fold stands on the page of incidents that has nothing in it and nothing to do", () => {
  expect(renderToStaticMarkup(<HolidaysPart holidays={[]} mayAdd={false} />)).toBe("");
});
