import type { Page } from "playwright-core";
import { expect } from "vitest";
import { lookAt } from "@/tests/support/browser";
import { inBlackAndWhite, printsOn } from "@/tests/support/printed";
import { readQrCodes } from "@/tests/support/read-qr";

const sheetsOfTheWay = [
  ["label", "100x150", 1],
  ["label", "a4", 1],
  ["label", "letter", 1],
  ["packing-sheet", "a4", 2],
  ["packing-sheet", "letter", 2],
  ["packing-sheet", "100x150", 1],
] as const;

/** The sheets of a return whose dealer reads another language say it in that one as well, and fit their papers all the same. */
export async function printsIn(language: "de" | "es", page: Page, reference: string): Promise<void> {
  for (const [sheet, paper, pages] of sheetsOfTheWay) {
    const what = `${sheet} on ${paper}, ${language}`;
    await page.goto(`/print/${reference}/${sheet}?paper=${paper}`);
    expect(await page.locator(`main [lang=${language}]`).count(), what).toBeGreaterThan(3);
    await printsOn(page, paper, what, pages);
    expect(await readQrCodes(await inBlackAndWhite(page, what)), what).toEqual([
      new URL(`/bench/${reference}`, page.url()).href,
    ]);
    await lookAt(page, `print-${sheet}-${paper}-${language}`);
  }
}
