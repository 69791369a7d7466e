import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { zoneCookie } from "@/lib/auth/zone-cookie";
import { desk, people, phone, withBrowser } from "../support/browser";

const browser = withBrowser();

const pages = [
  [people.finance, "/money", desk, "told its zone"],
  [people.finance, "/money", phone, "told its zone"],
  [people.lead, "/bench", phone, "told its zone"],
  [people.finance, "/money", desk, "told no zone yet"],
] as const;

test.each(pages)("nothing moves under the finger of %s on %s when the scripts arrive (%o, %s)", async (...one) => {
  const [who, address, size, zone] = one;
  const page = await browser.openAs(who, size);
  if (zone === "told no zone yet") await page.context().clearCookies({ name: zoneCookie });
  const { release, held } = await holdScripts(page);
  await page.goto(address, { waitUntil: "domcontentloaded" });
  const before = await placesOf(page);
  expect(held()).toBeGreaterThan(0);
  release();
  await page.waitForFunction(() =>
    [...document.querySelectorAll("time")].every((time) => Object.keys(time).some((key) => key.startsWith("__react"))),
  );
  await page.waitForTimeout(200);
  expect(await placesOf(page)).toEqual(before);
});

/** Keeps every script of the page back until it is released, as a slow line does. */
async function holdScripts(page: Page) {
  let release = (): void => undefined;
  let count = 0;
  const released = new Promise<void>((resolve) => {
    release = resolve;
  });
  await page.route("**/_next/static/**/*.js", async (route) => {
    count++;
    await released;
    await route.continue();
  });
  return { release: () => release(), held: () => count };
}

/** Where every control of the page is, in CSS pixels from the top of the page. */
function placesOf(page: Page): Promise<string[]> {
  return page.$$eval("main button, main summary, main a[href], main input:not([type=hidden])", (controls) =>
    controls.map((control) => {
      const { x, y, width, height } = control.getBoundingClientRect();
      return `${control.textContent?.trim().slice(0, 40)}: ${[x, y, width, height].map(Math.round).join(" ")}`;
    }),
  );
}
