import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { packsToTry } from "@/seed/packs-to-try";
import { people, phone, withBrowser } from "@/tests/support/browser";
import { demoStory } from "@/tests/support/demo-story";
import { refusedAtField } from "@/tests/support/refused-at-field";
import { formWith, sendForm } from "@/tests/support/send-form";

const browser = withBrowser();
/** The pack sold longest ago of those nobody touched: its guarantee is over. */
const pack = packsToTry(demoStory, "D01").toSorted((a, b) => a.soldOn.localeCompare(b.soldOn))[0];
const title = "Lead of one pack was crimped by hand";
const action = "Do not ride. Send this pack in, whatever its age.";
const validFrom = civilDateAt(new Date(), "UTC");
const answers = {
  title,
  action,
  coversWhateverTheDate: "yes",
  stopShip: "no",
  validFrom,
  why: "The crimp tool was out of tolerance that day.",
};

test("one proposes, the same may not approve, another does, and the dealer's answer on cover is another one", async () => {
  if (pack === undefined) throw new Error("the scenario holds no pack for this dealer");
  const dealer = await browser.openAs(people.dealer, phone);
  expect(await coverOf(dealer, pack.shown, false)).not.toContain(title);

  // One pack alone, so that nobody else's answers change: a set of it, frozen by the safety officer.
  const safetyOfficer = await browser.openAs(people.safetyOfficer);
  const one = new URLSearchParams({ by: "revision", group: pack.revisionCode, from: pack.serial, to: pack.serial });
  await safetyOfficer.goto(`/reliability/affected?${one}`);
  const keep = formWith(safetyOfficer, "Keep the set in my name");
  expect(await sendForm(keep, { as: "frozen", why: "One lead was crimped by hand." })).toBeNull();
  const set = /kept as set (\d+)/.exec((await safetyOfficer.locator("main").allInnerTexts()).join(" "))?.[1] ?? "";

  const manager = await browser.openAs(people.manager);
  await manager.goto("/known-issues/packs?set=9999");
  expect(await manager.getByLabel("Set of packs").getAttribute("aria-invalid")).toBe("true");
  await manager.goto(`/known-issues/packs?set=${set}`);
  await manager.getByText("1 pack in 1 country").waitFor();
  const form = formWith(manager, "Propose");
  await refusedAtField(form, {
    answers: { ...answers, validFrom: "2026-01-05" },
    at: "validFrom",
    sentence: /begins today or later/,
  });
  expect(await sendForm(form, answers)).toBeNull();

  await manager.goto("/known-issues");
  const own = cardOf(manager);
  await own.getByText("You proposed this").waitFor();
  expect(await own.getByRole("button", { name: /^Approve/ }).count()).toBe(0);
  expect(await coverOf(dealer, pack.shown, true)).not.toContain(title);

  const second = await browser.openAs(people.secondManager);
  await second.goto("/known-issues");
  await cardOf(second).getByText("1 pack in 1 country").waitFor();
  await cardOf(second)
    .getByRole("button", { name: /^Approve/ })
    .click();
  await second.getByRole("heading", { name: title, exact: true }).waitFor();

  const told = await coverOf(dealer, pack.shown, true);
  for (const words of [title, action, "Covered by a field action of the maker"]) expect(told).toContain(words);
});

/** What waits for a second person under this title. */
function cardOf(page: Page) {
  return page.getByRole("article", { name: `To open: ${title}` });
}

/** What the dealer reads at the counter once the serial is found; of a form kept from before it is looked up by itself. */
async function coverOf(page: Page, serial: string, isKept: boolean): Promise<string> {
  await page.goto("/dealer/returns/new");
  await page.getByRole("checkbox", { name: "None of these" }).check();
  await page.getByRole("button", { name: "Continue" }).click();
  if (!isKept) {
    await page.getByLabel("Serial number").fill(serial);
    await page.getByRole("button", { name: "Find this pack" }).click();
  }
  await page.getByText("This is the pack", { exact: true }).waitFor();
  return (await page.locator("main").allInnerTexts()).join(" ");
}
