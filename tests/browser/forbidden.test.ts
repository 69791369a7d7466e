import type { Page } from "playwright-core";
import sharp from "sharp";
import { beforeAll, expect, test } from "vitest";
import { people, signIn, withBrowser } from "@/tests/support/browser";
import { demoStory } from "@/tests/support/demo-story";
import { type Person, type RouteRoles, routeRoles, type Samples } from "@/tests/support/route-roles";

const browser = withBrowser();
const reference =
  demoStory.returns.find(({ dealerCode, readings }) => dealerCode === "D01" && readings !== null)?.reference ?? "";

const routes = Object.entries(routeRoles);
const pageOf = (file: string) => file.endsWith("page.tsx");

/**
 * The answer itself, not where it leads; a server that just closed an idle connection is asked again. The heaviest tables take their
 * time on a busy machine, and nothing is said of speed here.
 */
const asked = { maxRedirects: 0, maxRetries: 2, timeout: 180_000 } as const;

/** What the addresses name of this demo, read where people find it. */
async function readSamples(): Promise<Samples> {
  const technician = await browser.openAs(people.service);
  const safetyOfficer = await browser.openAs(people.safetyOfficer);
  const photograph = await sharp({ create: { width: 640, height: 480, channels: 3, background: "#888" } })
    .jpeg()
    .toBuffer();
  await technician.request.post(`/bench/${reference}/photos`, {
    ...asked,
    multipart: { photo: { name: "top.jpg", mimeType: "image/jpeg", buffer: photograph }, view: "top" },
  });
  const link = async (page: Page, address: string, pattern: RegExp) => {
    const named = pattern.exec(await (await page.request.get(address)).text())?.[1];
    if (named === undefined) throw new Error(`${address} names nothing like ${pattern.source}`);
    return named;
  };
  return {
    reference,
    photoId: await link(technician, `/bench/${reference}/receiving`, /\/photos\/([0-9a-f-]{36})/),
    incident: await link(safetyOfficer, "/incidents?closed=all", /\/incidents\/([A-Z0-9][A-Z0-9-]+)"/),
    place: await link(safetyOfficer, "/quarantine", /\/quarantine\/([A-Za-z0-9-]+)"/),
    // The demo keeps one forecast, as if 90 days ago.
    keptOn: new Date(Date.now() - 90 * 86_400_000).toISOString().slice(0, 10),
  };
}

let samples: Samples;
beforeAll(async () => {
  samples = await readSamples();
});

/** Whether this person is let in: asked for without being drawn, the answer alone tells and costs a fraction of a page. */
async function isLetIn(page: Page, file: string, route: Exclude<RouteRoles, { kind: "open" }>): Promise<boolean> {
  const address = route.address(samples);
  if (route.kind === "takes-in") {
    const response = await page.request.post(address, { ...asked, ...rubbish[route.sends] });
    const said = `${response.headers().location ?? ""} ${await response.text()}`;
    expect(response.status(), `${file}: ${said}`).toBeLessThan(500);
    return !decodeURIComponent(said.replaceAll("+", " ")).includes(route.refusal);
  }
  const response = await page.request.get(address, asked);
  if (response.status() !== 200) expect(response.status(), `${file} at ${address}`).toBe(404);
  return response.status() === 200;
}

/** Nothing of it can be kept: who may send is told so, and nothing else happens. */
const rubbish = {
  bytes: { data: Buffer.from("x"), headers: { "content-type": "application/octet-stream" } },
  photograph: {
    multipart: {
      photo: { name: "no-picture.jpg", mimeType: "image/jpeg", buffer: Buffer.from("no picture") },
      view: "proof-of-sale",
    },
  },
  "named-file": { data: { fileId: "00000000-0000-4000-8000-000000000000" } },
} as const;

/** The second technician and the second manager are there for two signatures: they get what the first ones get. */
const everybody = (Object.keys(people) as Person[]).filter((who) => !who.startsWith("second"));

test.each(everybody)("%s gets the own pages and files and no other", async (who) => {
  const page = await browser.openAs(people[who]);
  const got: string[] = [];
  const due: string[] = [];
  for (const [file, route] of routes) {
    if (route.kind === "open") continue;
    if (await isLetIn(page, file, route)) got.push(file);
    if (route.who.includes(who)) due.push(file);
  }
  expect(got).toEqual(due);
});

test("signed out, every page leads to the sign-in and no file is given or taken", async () => {
  const page = await browser.open();
  for (const [file, route] of routes) {
    if (route.kind === "open") continue;
    const address = route.address(samples);
    if (route.kind === "takes-in") {
      const response = await page.request.post(address, { ...asked, ...rubbish[route.sends] });
      expect(response.status(), file).toBe(401);
      continue;
    }
    const response = await page.request.get(address, asked);
    if (pageOf(file)) expect(response.headers().location ?? (await response.text()), file).toContain("/sign-in");
    else expect(response.status(), file).toBe(404);
  }
});

test("what is open to everybody answers whoever is not signed in", async () => {
  const page = await browser.open();
  for (const [file, route] of routes) {
    if (route.kind === "open") expect((await page.request.get(route.address)).status(), file).toBe(200);
  }
});

test("an address that cannot be read is answered as one that does not exist, not as a fault", async () => {
  const page = await browser.openAs(people.dealer);
  for (const address of ["/dealer/returns/%E0%A4%A", "/%FF", "/bench/%C3%28/traces"]) {
    expect((await page.request.get(address)).status(), address).toBe(404);
  }
});

test("after signing out the old session is worth nothing", async () => {
  // A sign-in of its own: those that the files share have to outlive this test.
  const page = await browser.open();
  await signIn(page, people.service);
  const cookies = await page.context().cookies();
  await page.getByRole("button", { name: "Sign out" }).click();
  await page.waitForURL(/sign-in/);
  await page.context().addCookies(cookies);
  await page.goto("/bench");
  expect(new URL(page.url()).pathname).toBe("/sign-in");
});

test("wrong passwords get one sentence, and too many of them a pause", async () => {
  const page = await browser.open();
  const attempt = async () => {
    await page.goto("/sign-in");
    await page.getByLabel("E-mail address").fill("duarte.vilarinhaes@duasmargens.example");
    await page.getByLabel("Password").fill("not the password at all");
    await page.getByRole("button", { name: "Sign in" }).click();
    // Next keeps an empty alert of its own on every page for announcing routes.
    const summary = page.getByRole("alert").filter({ has: page.getByRole("heading") });
    await summary.waitFor();
    return (await summary.textContent()) ?? "";
  };
  expect(await attempt()).toContain("do not go together");
  let said = "";
  for (let count = 0; count < 12 && !said.includes("Too many attempts"); count += 1) said = await attempt();
  expect(said).toContain("Too many attempts");
  const other = await browser.open();
  await signIn(other, people.manager);
});

test("a readings upload without a session, or from another site, is refused", async () => {
  const page = await browser.open();
  await page.goto("/sign-in");
  const status = await page.evaluate(async () => {
    const response = await fetch("/readings?serial=x&name=y.csv", { method: "POST", body: "x" });
    return response.status;
  });
  expect(status).toBe(401);
});
