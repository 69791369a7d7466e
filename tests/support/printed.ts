import type { Page } from "playwright-core";
import sharp from "sharp";
import { expect } from "vitest";

const pointsPerMm = 72 / 25.4;

// Sizes: ISO 216 (A4), ANSI/ASME Y14.1 (Letter), the usual parcel label.
const papers = { a4: [210, 297], letter: [215.9, 279.4], "100x150": [100, 150] } as const;
export type PaperTried = keyof typeof papers;

/** Prints what is on screen and asserts that it is so many pages of this paper, one unless said otherwise. */
export async function printsOn(page: Page, paper: PaperTried, what: string, pages = 1): Promise<void> {
  const [widthMm, heightMm] = papers[paper];
  const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
  const boxes = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
  expect(boxes, `${what}: pages`).toHaveLength(pages);
  expect(Number(boxes[0]?.[1]) / pointsPerMm, `${what}: width`).toBeCloseTo(widthMm, 0);
  expect(Number(boxes[0]?.[2]) / pointsPerMm, `${what}: height`).toBeCloseTo(heightMm, 0);
}

/** What a printer that knows only black and white makes of the sheet; black on white whatever the screen prefers. */
export async function inBlackAndWhite(page: Page, what: string): Promise<Buffer> {
  await page.emulateMedia({ media: "print", colorScheme: "dark" });
  const main = page.locator("main");
  const seen = await main.evaluate((node) => {
    const { color, backgroundColor } = getComputedStyle(node);
    return { isWithin: node.scrollWidth <= node.clientWidth + 1, color, backgroundColor };
  });
  expect(seen, what).toEqual({ isWithin: true, color: "rgb(0, 0, 0)", backgroundColor: "rgb(255, 255, 255)" });
  const picture = await sharp(await main.screenshot())
    .threshold(128)
    .png()
    .toBuffer();
  // Back to no emulation: a PDF made under "screen" would be of the screen, not of the paper.
  await page.emulateMedia({ media: null, colorScheme: null });
  return picture;
}
