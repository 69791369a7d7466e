import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { packsToTry } from "@/seed/packs-to-try";
import { lookAt, people, phone, withBrowser } from "@/tests/support/browser";
import { demoStory, noticedOn, toldOn } from "@/tests/support/demo-story";

const browser = withBrowser();
const packs = packsToTry(demoStory, "D06").filter(({ soldOn }) => soldOn <= noticedOn);
const [first, second] = packs;
if (first === undefined || second === undefined) throw new Error("the scenario holds no packs for this dealer");
const words = "Es geht nicht mehr an, sagt er.";
const csv = (name: string, text: string) => ({ name, mimeType: "text/csv", buffer: Buffer.from(text) });
const goOn = (page: Page) => page.getByRole("button", { name: "Continue", exact: true }).click();

async function upToReadings(page: Page, shown: string): Promise<void> {
  await page.goto("/dealer/returns/new");
  await page.getByRole("checkbox", { name: "None of these" }).check();
  await goOn(page);
  await page.getByLabel("Serial number").fill(shown);
  await page.getByRole("button", { name: "Find this pack" }).click();
  await page.getByRole("button", { name: "This is the pack: continue" }).click();
  await page.getByLabel("Day the customer told you").fill(toldOn);
  await page.getByLabel("Day the customer first noticed it").fill(noticedOn);
  await goOn(page);
  await page.getByLabel("In the customer's own words").fill(words);
  await goOn(page);
  await page.getByRole("radio", { name: "Does not switch on" }).check();
  await goOn(page);
  await goOn(page);
  await page.getByLabel("Choose the readings file").waitFor({ state: "attached" });
}

test("a serial typed wrong is named at its field, the likely one offered, the unknown one told apart", async () => {
  const page = await browser.openAs(people.otherDealer, phone);
  await page.goto("/dealer/returns/new");
  await page.getByRole("checkbox", { name: "None of these" }).check();
  await goOn(page);
  const serial = page.getByLabel("Serial number");
  const find = page.getByRole("button", { name: "Find this pack" });

  await serial.fill(first.shown.slice(0, -3));
  await find.click();
  await page.locator("#serial-error").waitFor();
  expect(await serial.inputValue()).toBe(first.shown.slice(0, -3));

  const swapped = `${first.shown[1]}${first.shown[0]}${first.shown.slice(2)}`;
  await serial.fill(swapped);
  await find.click();
  await page.getByRole("button", { name: first.shown }).waitFor();
  await lookAt(page, "bad-serial");
});

test("a day still to come is named at its field", async () => {
  const page = await browser.openAs(people.otherDealer, phone);
  await page.goto("/dealer/returns/new");
  await page.getByRole("checkbox", { name: "None of these" }).check();
  await goOn(page);
  await page.getByLabel("Serial number").fill(first.shown);
  await page.getByRole("button", { name: "Find this pack" }).click();
  await page.getByRole("button", { name: "This is the pack: continue" }).click();
  await page.getByLabel("Day the customer told you").fill("2031-01-01");
  await page.getByLabel("Day the customer first noticed it").fill(noticedOn);
  await goOn(page);
  await page.locator("#toldOn-error").waitFor();
  expect(await page.getByLabel("Day the customer told you").inputValue()).toBe("2031-01-01");
});

test("each unusable file gets its sentence at the field, and nothing typed is lost on the way", async () => {
  const page = await browser.openAs(people.otherDealer, phone);
  await upToReadings(page, first.shown);
  const choose = page.getByLabel("Choose the readings file");
  const refusal = page.locator("#readingFileId-error");
  const log = first.log({ fault: "no-fault-found", groups: [], severity: "clear" });
  const cases: [ReturnType<typeof csv>, RegExp][] = [
    [csv("empty.csv", ""), /empty/],
    [csv("letter.csv", "%PDF-1.7\n1 0 obj\n"), /PDF/],
    [csv("no-cells.csv", "Test Time / s,Current / A\n0,1\n1,2\n"), /cell/],
    [csv("other-pack.csv", second.log({ fault: "no-fault-found", groups: [], severity: "clear" })), /names the pack/],
    [csv("nan.csv", "Test Time / s,Voltage / V,Current / A,Cell 01 Voltage / V\nNaN,NaN,NaN,NaN\n"), /No row/],
  ];
  for (const [file, sentence] of cases) {
    await choose.setInputFiles(file);
    await refusal.filter({ hasText: sentence }).waitFor({ timeout: 30_000 });
  }
  await lookAt(page, "bad-file");
  await choose.setInputFiles(csv("good.csv", log));
  await page.getByRole("heading", { name: /The readings point to/ }).waitFor({ timeout: 60_000 });
  await goOn(page);
  await page.getByText(words).waitFor();
});

test("a send without a connection keeps every answer, and sending again lodges one return", async () => {
  const page = await browser.openAs(people.otherDealer, phone);
  await upToReadings(page, second.shown);
  await page.getByRole("radio", { name: "The file follows later" }).check();
  await goOn(page);
  await page.getByText(words).waitFor();
  await page.context().setOffline(true);
  await page.getByRole("button", { name: "Send this return" }).click();
  await page.getByText("could not be sent").waitFor();
  await page.getByText(words).waitFor();
  await lookAt(page, "bad-connection");
  await page.context().setOffline(false);
  await page.getByRole("button", { name: "Send this return" }).dblclick();
  await page.waitForURL(/\/dealer\/returns\/R-/);
  await page.goto("/dealer");
  expect(await page.getByText(second.shown).count()).toBe(1);
});
