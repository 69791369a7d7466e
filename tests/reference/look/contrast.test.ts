import { readFileSync } from "node:fs";
import path from "node:path";
import { expect, test } from "vitest";

// Source of the method and of the limits: WCAG 2.2, "relative luminance", "contrast ratio", success criteria 1.4.3
// (4.5:1 for text) and 1.4.11 (3:1 for controls and graphics). https://www.w3.org/TR/WCAG22/
const TEXT = 4.5;
const CONTROL = 3;

const css = readFileSync(path.join(import.meta.dirname, "../../../app/globals.css"), "utf8");
const [lightCss = "", darkCss = ""] = css.split("@media (prefers-color-scheme: dark)");
const light = new Map(colours(lightCss));
const dark = new Map([...light, ...colours(darkCss.split("@theme")[0] ?? "")]);
const themes = [
  ["light", light],
  ["dark", dark],
] as const;

function colours(text: string): [string, string][] {
  return [...text.matchAll(/--([a-z0-9-]+):\s*(#[0-9a-f]{6});/g)].map(([, name = "", hex = ""]) => [name, hex]);
}

function luminance(hex: string): number {
  const channel = (from: number) => {
    const share = Number.parseInt(hex.slice(from, from + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

function contrast(first: string, second: string): number {
  const [lighter = 0, darker = 0] = [luminance(first), luminance(second)].sort((a, b) => b - a);
  return (lighter + 0.05) / (darker + 0.05);
}

function contrastOf(theme: ReadonlyMap<string, string>, first: string, second: string): number {
  const [one, other] = [theme.get(first), theme.get(second)];
  if (one === undefined || other === undefined) throw new RangeError(`${first} or ${second} is not in the style sheet`);
  return contrast(one, other);
}

test("contrast is computed as WCAG defines it", () => {
  // The definition's own ends, and the grey that WebAIM's checker gives as 4.54:1 on white.
  expect(contrast("#000000", "#ffffff")).toBeCloseTo(21, 10);
  expect(contrast("#ffffff", "#ffffff")).toBe(1);
  expect(contrast("#767676", "#ffffff")).toBeCloseTo(4.54, 2);
});

test.each(themes)("text on every ground of the %s theme reaches 4.5:1", (_name, theme) => {
  const grounds = ["paper", "paper-raised", "paper-sunk", "accent-paper", "danger-paper", "warn-paper", "good-paper"];
  const inks = ["ink", "ink-soft", "accent", "danger", "warn", "good"];
  const weak = grounds.flatMap((ground) =>
    inks.filter((ink) => contrastOf(theme, ink, ground) < TEXT).map((ink) => [ink, ground]),
  );
  expect(weak).toEqual([]);
  expect(contrastOf(theme, "accent-ink", "accent")).toBeGreaterThanOrEqual(TEXT);
  expect(contrastOf(theme, "danger-ink", "danger")).toBeGreaterThanOrEqual(TEXT);
});

test.each(themes)("controls and lines of the %s theme reach 3:1", (_name, theme) => {
  const lines = ["edge", ...Array.from({ length: 8 }, (_, place) => `series-${place + 1}`)];
  const weak = lines.filter((line) => contrastOf(theme, line, "paper-raised") < CONTROL);
  expect(weak).toEqual([]);
  expect(contrastOf(theme, "edge", "paper")).toBeGreaterThanOrEqual(CONTROL);
});

test.each(themes)("the series of the %s theme keep their order in greys", (_name, theme) => {
  const steps = Array.from({ length: 8 }, (_, place) => contrastOf(theme, `series-${place + 1}`, "paper-raised"));
  expect(steps).toEqual([...steps].sort((a, b) => b - a));
  expect(new Set(steps).size).toBe(8);
});
