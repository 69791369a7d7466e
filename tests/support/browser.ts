import { existsSync, mkdirSync, writeFileSync } from "node:fs";
import path from "node:path";
import { AxeBuilder } from "@axe-core/playwright";
import { type Browser, type BrowserContext, chromium, type Page } from "playwright-core";
import { afterAll, beforeAll, expect, inject } from "vitest";
import { DEMO_PASSWORD } from "@/lib/auth/demo-password";

const artefacts = path.resolve(import.meta.dirname, "../browser/artefacts");

/** People of the demo scenario, by what they do in these tests. */
export const people = {
  dealer: "ilka.morgenbusch@quellmoor.example",
  otherDealer: "bram.wattleby@wattlerow.example",
  service: "jorun.halfvarden@bench.example",
  lead: "samira.oskendal@bench.example",
  manager: "odile.fennimarck@bench.example",
  secondTechnician: "mirela.stoykova@bench.example",
  secondManager: "casper.nordhagel@bench.example",
  safetyOfficer: "ruta.salvendis@bench.example",
  finance: "noor.tasselbrink@bench.example",
  administrator: "pell.ostrander@bench.example",
  dealerAdmin: "gesche.tideloh@quellmoor.example",
} as const;

export const phone = { width: 360, height: 780 };
export const desk = { width: 1440, height: 900 };

/** One Chromium for a test file; each person gets a context of their own, as if on a device of their own. */
export function withBrowser() {
  let browser: Browser;
  const contexts: BrowserContext[] = [];
  beforeAll(async () => {
    mkdirSync(artefacts, { recursive: true });
    browser = await chromium.launch({
      executablePath: process.env.CHROMIUM_PATH ?? "/usr/bin/chromium",
      args: ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    });
  });
  afterAll(async () => {
    for (const context of contexts) await context.close();
    await browser.close();
  });
  return {
    /** A page nobody is signed in on. */
    async open(viewport = desk, signedIn?: string): Promise<Page> {
      const context = await browser.newContext({
        viewport,
        baseURL: inject("demoAddress"),
        locale: "en-GB",
        ...(signedIn === undefined ? {} : { storageState: signedIn }),
      });
      contexts.push(context);
      return context.newPage();
    },
    /** The first page of somebody. Whoever signed in before, in any file, is let in by what the browser kept of it. */
    async openAs(email: string, viewport = desk): Promise<Page> {
      const kept = path.join(inject("signInFolder"), `${email}.json`);
      const page = await this.open(viewport, existsSync(kept) ? kept : undefined);
      await page.goto("/");
      if (new URL(page.url()).pathname.startsWith("/sign-in")) {
        await signIn(page, email);
        await page.context().storageState({ path: kept });
      }
      return page;
    },
  };
}

/** Sets the demo's clock this much ahead of the right time; the server looks at it anew within a moment. */
export async function runClockAhead(hours: number): Promise<void> {
  writeFileSync(inject("clockFile"), String(hours * 3_600_000));
  await new Promise((resolve) => setTimeout(resolve, 150));
}

export async function signIn(page: Page, email: string, password: string = DEMO_PASSWORD): Promise<void> {
  await page.goto("/sign-in");
  await page.getByLabel("E-mail address").fill(email);
  await page.getByLabel("Password").fill(password);
  await page.getByRole("button", { name: "Sign in" }).click();
  await page.waitForURL((url) => !url.pathname.startsWith("/sign-in"));
}

/** Keeps a picture of the screen, and asserts what must hold of every screen: axe finds nothing serious, nothing scrolls sideways. */
export async function lookAt(page: Page, name: string): Promise<void> {
  const width = page.viewportSize()?.width ?? 0;
  await page.screenshot({ path: path.join(artefacts, `${name}-${width}.png`), fullPage: true });
  const { violations } = await new AxeBuilder({ page })
    .withTags(["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"])
    .analyze();
  const grave = violations.filter(({ impact }) => impact === "serious" || impact === "critical");
  expect(
    grave.map(({ id, nodes }) => `${id}: ${nodes.map(({ target }) => target.join(" ")).join("; ")}`),
    `accessibility of ${name}`,
  ).toEqual([]);
  const overflow = await page.evaluate(
    () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
  );
  expect(overflow, `${name} scrolls sideways at ${width} px`).toBeLessThanOrEqual(0);
}
