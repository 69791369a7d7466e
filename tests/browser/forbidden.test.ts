import { expect, test } from "vitest";
import { people, signIn, withBrowser } from "@/tests/support/browser";
import { demoStory } from "@/tests/support/demo-story";

const browser = withBrowser();
const ofD01 = demoStory.returns.find(({ dealerCode }) => dealerCode === "D01")?.reference ?? "";

/** The demo keeps one forecast, as if 90 days ago. */
const packsConcerned = "/reliability/affected?by=revision&group=GW-C";
const keptForecast = `/reliability/kept/${new Date(Date.now() - 90 * 86_400_000).toISOString().slice(0, 10)}`;

const pages = [
  "/dealer",
  "/dealer/returns/new",
  `/dealer/returns/${ofD01}`,
  "/dealer/notices",
  "/dealer/statement",
  "/dealer/accounts",
  "/bench",
  `/bench/${ofD01}`,
  `/bench/${ofD01}/work`,
  `/bench/${ofD01}/remedy`,
  `/bench/${ofD01}/tests`,
  "/parts",
  "/bench/post",
  "/bench/new",
  "/test-plans",
  "/test-plans/GW",
  "/thresholds",
  "/thresholds/GW",
  "/thresholds/replay",
  "/instruments",
  "/columns",
  "/quarantine",
  "/incidents",
  "/transport-rules",
  "/transport-rules/propose",
  "/holidays",
  "/reliability",
  "/reliability/signals",
  "/reliability/forecast",
  "/reliability/reserve",
  "/reliability/kept",
  keptForecast,
  "/reliability/costs",
  "/reliability/months?by=revision&group=none",
  packsConcerned,
  "/policies",
  "/policies/replay",
  "/policies/periods",
  "/policies/distributor-sales",
  "/money",
  "/money/suppliers",
  "/accounts",
  "/exports",
  "/emergency-look",
  `/emergency-look/${ofD01}`,
  "/reliability/affected/sets",
];

const dealerOwn = [
  "/dealer",
  "/dealer/returns/new",
  `/dealer/returns/${ofD01}`,
  "/dealer/notices",
  "/dealer/statement",
  "/columns",
];
const bench = [
  "/bench",
  `/bench/${ofD01}`,
  `/bench/${ofD01}/work`,
  `/bench/${ofD01}/remedy`,
  `/bench/${ofD01}/tests`,
  "/parts",
  "/bench/post",
  "/test-plans",
  "/thresholds",
  "/thresholds/GW",
  "/instruments",
  "/quarantine",
];
const desk = [...bench, "/bench/new", "/columns"];
/** A new version of a test plan or of thresholds is proposed by the lead or a manager. */
const proposals = ["/test-plans/GW", "/thresholds/replay"];
/** Whoever may propose a set of affected packs sees them, too. */
const incidents = ["/incidents", "/transport-rules", "/holidays", packsConcerned, "/reliability/affected/sets"];
/** Rules of transport are kept by managers and the safety officer. */
const rules = "/transport-rules/propose";
const toCome = [
  "/reliability/forecast",
  "/reliability/reserve",
  "/reliability/kept",
  keptForecast,
  "/reliability/costs",
];
const rates = ["/reliability", "/reliability/signals", ...toCome, "/reliability/months?by=revision&group=none"];

/** Which of the pages each person gets: the others do not exist for them. */
const allowed = {
  dealer: dealerOwn,
  otherDealer: dealerOwn.filter((address) => !address.endsWith(ofD01)),
  dealerAdmin: [...dealerOwn, "/dealer/accounts"],
  service: desk,
  lead: [...desk, ...proposals, ...incidents, "/money"],
  safetyOfficer: [...bench, ...incidents, rules, "/policies", "/policies/periods"],
  manager: [
    ...bench,
    ...proposals,
    ...incidents,
    rules,
    ...rates,
    "/policies",
    "/policies/replay",
    "/policies/periods",
    "/policies/distributor-sales",
    "/money",
    "/money/suppliers",
    "/accounts",
    "/exports",
    "/emergency-look",
  ],
  finance: [`/bench/${ofD01}/remedy`, ...toCome, "/money", "/money/suppliers"],
  administrator: ["/accounts", "/exports", "/emergency-look"],
} as const;

// What hangs on one return: who sees the return as the house or as its dealer gets the sheets, the bench alone the rest.
const subpages: Readonly<Record<string, readonly (keyof typeof allowed)[]>> = {
  ...Object.fromEntries(
    ["label", "traveller", "packing-sheet", "used-battery-statement"].map((sheet) => [
      `/print/${ofD01}/${sheet}`,
      ["dealer", "dealerAdmin", "service", "lead", "safetyOfficer", "manager"] as const,
    ]),
  ),
  ...Object.fromEntries(
    ["receiving", "transport", "transport/to-dealer", "incident"].map((part) => [
      `/bench/${ofD01}/${part}`,
      ["service", "lead", "safetyOfficer", "manager"] as const,
    ]),
  ),
};

/** The answer itself, not where it leads; a server that just closed an idle connection is asked again. */
const asked = { maxRedirects: 0, maxRetries: 2 } as const;

test.each(Object.keys(allowed) as (keyof typeof allowed)[])("%s gets the own pages and no other", async (who) => {
  const page = await browser.openAs(people[who]);
  const got: string[] = [];
  for (const address of pages) {
    // Asked for without being drawn: the answer alone tells, and costs a fraction of a page.
    const response = await page.request.get(address, asked);
    if (response.status() === 200) got.push(address);
    else expect(response.status(), `${who} at ${address}`).toBe(404);
  }
  const own: readonly string[] = allowed[who];
  expect(got).toEqual(pages.filter((address) => own.includes(address)));
  for (const [address, admitted] of Object.entries(subpages)) {
    const response = await page.request.get(address, asked);
    expect(response.status(), `${who} at ${address}`).toBe(admitted.includes(who) ? 200 : 404);
  }
});

test("signed out, every page leads to the sign-in", async () => {
  const page = await browser.open();
  for (const address of [...pages, ...Object.keys(subpages)]) {
    const response = await page.request.get(address, asked);
    expect(response.headers().location ?? (await response.text()), address).toContain("/sign-in");
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
