import { expect, test } from "vitest";
import { lookAt, people, withBrowser } from "@/tests/support/browser";
import { readQrCodes } from "@/tests/support/read-qr";

const browser = withBrowser();
const pointsPerMm = 72 / 25.4;

// Sizes: ISO 216 (A4), ANSI/ASME Y14.1 (Letter), the usual parcel label.
const sheets = [
  ["label", "100x150", 100, 150],
  ["label", "a4", 210, 297],
  ["label", "letter", 215.9, 279.4],
  ["traveller", "a4", 210, 297],
  ["traveller", "letter", 215.9, 279.4],
  ["traveller", "100x150", 100, 150],
  ["packing-sheet", "a4", 210, 297],
  ["packing-sheet", "letter", 215.9, 279.4],
  ["used-battery-statement", "a4", 210, 297],
  ["used-battery-statement", "letter", 215.9, 279.4],
] as const;

/** References of open returns: one that may be sent, and one that has no class. */
async function references() {
  const page = await browser.openAs(people.lead);
  await page.goto("/bench");
  const found = [...new Set((await page.content()).match(/R-[0-9]{2}-[0-9]{5}-[0-9A-Z]/g) ?? [])];
  let sendable = "";
  let unclassed = "";
  for (const reference of found) {
    if (sendable !== "" && unclassed !== "") break;
    await page.goto(`/print/${reference}/label`);
    if (await page.getByText("DO NOT FLY").isVisible()) sendable = reference;
    else if (await page.getByText("No transport class has been declared").isVisible()) unclassed = reference;
  }
  return { page, sendable, unclassed };
}

test("every sheet fits its paper, holds in black and white, and its code opens the return", async () => {
  const { page, sendable, unclassed } = await references();
  expect(sendable).not.toBe("");
  for (const [sheet, paper, widthMm, heightMm] of sheets) {
    await page.goto(`/print/${sendable}/${sheet}?paper=${paper}`);
    const pdf = await page.pdf({ preferCSSPageSize: true });
    const text = pdf.toString("latin1");
    const boxes = [...text.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
    expect(boxes, `${sheet} on ${paper}: pages`).toHaveLength(1);
    expect(Number(boxes[0]?.[1]) / pointsPerMm, `${sheet} on ${paper}: width`).toBeCloseTo(widthMm, 0);
    expect(Number(boxes[0]?.[2]) / pointsPerMm, `${sheet} on ${paper}: height`).toBeCloseTo(heightMm, 0);
    await page.emulateMedia({ media: "print", colorScheme: "dark" });
    const within = await page.evaluate(() => {
      const main = document.querySelector("main");
      return main !== null && main.scrollWidth <= main.clientWidth + 1;
    });
    expect(within, `${sheet} on ${paper} is wider than its paper`).toBe(true);
    const colours = await page.evaluate(() => {
      const main = document.querySelector("main");
      const style = main === null ? null : getComputedStyle(main);
      return [style?.color, style?.backgroundColor];
    });
    expect(colours).toEqual(["rgb(0, 0, 0)", "rgb(255, 255, 255)"]);
    const code = page.locator("main svg[role=img]");
    if ((await code.count()) > 0) {
      expect(await readQrCodes(await code.screenshot())).toEqual([
        expect.stringMatching(new RegExp(`/bench/${sendable}$`)),
      ]);
    }
    // Back to no emulation: a PDF made under "screen" would be of the screen, not of the paper.
    await page.emulateMedia({ media: null, colorScheme: null });
    await lookAt(page, `print-${sheet}-${paper}`);
  }
  expect(unclassed).not.toBe("");
  for (const sheet of ["label", "packing-sheet", "used-battery-statement"]) {
    await page.goto(`/print/${unclassed}/${sheet}`);
    expect(await page.getByRole("heading", { name: "Nothing is printed" }).isVisible()).toBe(true);
    expect(await page.getByText("DO NOT FLY").count()).toBe(0);
  }
});

test("the letters stand on their paper in three languages, black on white, and one that cannot be written says why", async () => {
  const { page, sendable } = await references();
  await page.emulateMedia({ media: null, colorScheme: null });
  for (const [lang, paper, widthMm] of [
    ["en", "a4", 210],
    ["de", "letter", 215.9],
    ["es", "a4", 210],
  ] as const) {
    await page.goto(`/print/${sendable}/finding-letter?lang=${lang}&paper=${paper}`);
    expect(await page.locator("main").getAttribute("lang")).toBe(lang);
    const pdf = (await page.pdf({ preferCSSPageSize: true })).toString("latin1");
    const [box] = [...pdf.matchAll(/\/MediaBox\s*\[\s*0 0 ([\d.]+) ([\d.]+)\s*\]/g)];
    expect(Number(box?.[1]) / pointsPerMm, `${lang} on ${paper}`).toBeCloseTo(widthMm, 0);
    await lookAt(page, `print-finding-letter-${lang}`);
  }
  await page.goto(`/print/${sendable}/decision-letter`);
  await page.getByRole("heading", { name: /Nothing is printed|decision on the return/ }).waitFor();
});

test("a label is there for the dealer it is of, and for no other", async () => {
  const { page, sendable } = await references();
  await page.goto(`/print/${sendable}/label`);
  const from = (await page.getByText(/^From /).textContent()) ?? "";
  const dealers = [
    [people.dealer, "Quellmoor Zweirad"],
    [people.otherDealer, "Wattle Row Mopeds"],
  ] as const;
  for (const [email, name] of dealers) {
    const own = await browser.openAs(email);
    const answer = await own.goto(`/print/${sendable}/label`);
    expect(answer?.status(), `${name} asks for a label ${from}`).toBe(from.includes(name) ? 200 : 404);
  }
});
