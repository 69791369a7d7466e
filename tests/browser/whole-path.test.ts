import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { packsToTry } from "@/seed/packs-to-try";
import { badCellLotCode } from "@/seed/scenario/lots";
import { desk, lookAt, people, phone, withBrowser } from "@/tests/support/browser";
import { demoStory, noticedOn, toldOn } from "@/tests/support/demo-story";

const browser = withBrowser();
const pack = packsToTry(demoStory, "D01").find(
  ({ revisionCode, soldOn }) => revisionCode === "GW-C" && soldOn <= noticedOn,
);
if (pack === undefined) throw new Error("the scenario holds no pack to return");
const readings = {
  name: "log.csv",
  mimeType: "text/csv",
  buffer: Buffer.from(pack.log({ fault: "weak-cell", groups: [7], severity: "severe" })),
};
const words = "Nach zehn Minuten ist Schluss, dann geht das Licht aus.";
let reference = "";

/** The failures of the revision as the manager's table shows them. */
async function failuresOf(page: Page, revision: string): Promise<number> {
  await page.goto("/reliability");
  const row = page
    .getByRole("row")
    .filter({ has: page.getByRole("rowheader", { name: revision, exact: true }) })
    .first();
  return Number(((await row.getByRole("cell").nth(3).textContent()) ?? "").replace(/\D/g, ""));
}

/** What the manager reads first: the cause planted in a cell lot, then the one in the young revision. */
async function firstFindings(page: Page): Promise<string[]> {
  const findings = page.getByRole("region", { name: "What got worse" }).getByRole("listitem");
  const texts = await findings.evaluateAll((items) => items.map((item) => item.querySelector("p")?.textContent ?? ""));
  return texts.slice(0, 2).map((text) => text.replace(/ fails .*$/, ""));
}

test("dealer, technician and manager each do their job once", async () => {
  const manager = await browser.openAs(people.manager);
  const before = await failuresOf(manager, "GW-C");
  expect(await firstFindings(manager)).toEqual([`Cell lot ${badCellLotCode}`, "Revision GW-C, which is built today,"]);
  await lookAt(manager, "manager-before");

  await dealerLodges();
  await technicianProposes();
  await leadApproves();

  expect(await failuresOf(manager, "GW-C")).toBe(before + 1);
  await lookAt(manager, "manager-after");
  await manager.setViewportSize(phone);
  await lookAt(manager, "manager-after");
});

async function dealerLodges(): Promise<void> {
  const page = await browser.openAs(people.dealer, phone);
  await lookAt(page, "dealer-home");
  const goOn = () => page.getByRole("button", { name: "Continue" }).click();

  await page.getByRole("link", { name: "New return" }).first().click();
  await page.getByRole("checkbox", { name: "None of these" }).check();
  await lookAt(page, "dealer-1-danger");
  await goOn();

  await page.getByLabel("Serial number").fill(pack?.shown.toLowerCase() ?? "");
  await page.getByRole("button", { name: "Find this pack" }).click();
  await page.getByText("Covered by the maker's guarantee").waitFor();
  await page.getByText("Legal rights against the seller are not affected.").waitFor();
  await lookAt(page, "dealer-2-serial");
  await page.getByRole("button", { name: "This is the pack: continue" }).click();

  await page.getByLabel("Day the customer told you").fill(toldOn);
  await page.getByLabel("Day the customer first noticed it").fill(noticedOn);
  await lookAt(page, "dealer-3-dates");
  await goOn();
  await page.getByLabel("In the customer's own words").fill(words);
  await goOn();
  await page.getByRole("radio", { name: "Does not go as far as it used to" }).check();
  await goOn();
  await page.getByRole("checkbox", { name: "At full power" }).check();
  await goOn();

  await page.getByLabel("Choose the readings file").setInputFiles(readings);
  await page.getByRole("heading", { name: /The readings point to: Weak cell group/ }).waitFor({ timeout: 60_000 });
  await lookAt(page, "dealer-7-readings");
  await goOn();

  await page.getByText(words).waitFor();
  await lookAt(page, "dealer-8-check");
  await page.goBack();
  await page
    .getByRole("heading", { name: /readings file/i })
    .first()
    .waitFor();
  await page.goForward();
  await page.getByText(words).waitFor();
  await page.getByRole("button", { name: "Send this return" }).click();

  await page.waitForURL(/\/dealer\/returns\/R-/);
  reference = /R-[0-9]{2}-[0-9]+-[0-9A-Z]/.exec(page.url())?.[0] ?? "";
  expect(reference).not.toBe("");
  await page.getByRole("heading", { name: reference }).waitFor();
  await lookAt(page, "dealer-9-sent");
  await page.setViewportSize(desk);
  await lookAt(page, "dealer-9-sent");
}

async function technicianProposes(): Promise<void> {
  const page = await browser.openAs(people.service);
  await lookAt(page, "bench-queue");
  await page.getByLabel("Scan or type a reference or a serial").fill(reference);
  await page.keyboard.press("Enter");
  await page.waitForURL(new RegExp(reference));
  await page.getByText(words).first().waitFor();
  await page.getByText("Weak cell group").first().waitFor();
  await lookAt(page, "bench-return");
  await page.setViewportSize(phone);
  await lookAt(page, "bench-return");
  await page.setViewportSize(desk);
  await page.getByRole("button", { name: "Take this return" }).click();

  await page.getByRole("radio", { name: "Replace it with another pack" }).check();
  await page.getByRole("radio", { name: /^GW-C/ }).check();
  await page.getByLabel("Which fault was found?").selectOption({ label: "Weak cell group" });
  await page
    .getByRole("textbox", { name: "Why?" })
    .fill("Group 7 holds two thirds of the others; the pack is exchanged.");
  await lookAt(page, "bench-decision");
  await page.getByRole("button", { name: "Propose this decision" }).click();
  await page.getByRole("heading", { name: /Proposed: Replace/ }).waitFor();
  await lookAt(page, "bench-proposed");
}

async function leadApproves(): Promise<void> {
  const page = await browser.openAs(people.lead);
  await page.goto(`/bench/${reference}`);
  await page.getByRole("heading", { name: /Proposed: Replace/ }).waitFor();
  await page.getByRole("button", { name: "Approve the decision" }).click();
  await page.getByRole("heading", { name: /Decided/ }).waitFor();
  await page.getByText("none changed or missing").waitFor();
  await lookAt(page, "bench-decided");
  await page.setViewportSize(phone);
  await lookAt(page, "bench-decided");
}

test("of two who propose at once one is heard, and the other keeps what was written and sees what changed", async () => {
  const open = await browser.openAs(people.service);
  await open.goto("/bench?show=open");
  const link = open.getByRole("listitem").filter({ hasText: "Sent in" }).getByRole("link").last();
  const contested = (await link.textContent()) ?? "";
  await open.goto(`/bench/${contested}`);
  await open.getByRole("button", { name: "Take this return" }).click();
  await open.getByLabel("Why?").first().waitFor();
  const other = await browser.openAs(people.lead);
  await other.goto(`/bench/${contested}`);
  for (const [page, why] of [
    [open, "First: kept apart until it is clear."],
    [other, "Second: kept apart as well, for another reason."],
  ] as const) {
    await page.getByRole("radio", { name: "Isolate it and decide later" }).check();
    await page.getByLabel("Which fault was found?").selectOption({ label: "Not known" });
    await page.locator("#reason").fill(why);
  }
  await open.getByRole("button", { name: "Propose this decision" }).click();
  await open.getByRole("heading", { name: /Proposed: Isolate/ }).waitFor();
  await other.getByRole("button", { name: "Propose this decision" }).click();
  await other.getByText("Somebody changed this return while you had it open", { exact: false }).waitFor();
  await other.getByText("When you looked").waitFor();
  expect(await other.locator("#reason").inputValue()).toBe("Second: kept apart as well, for another reason.");
  await lookAt(other, "bench-second-writer");
  await other.getByRole("button", { name: /^Show it as it is now/ }).click();
  await other.getByText("When you looked").waitFor({ state: "detached" });
});
