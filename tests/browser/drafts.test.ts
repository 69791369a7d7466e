import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { people, phone, withBrowser } from "@/tests/support/browser";

const browser = withBrowser();
const goOn = (page: Page) => page.getByRole("button", { name: "Continue" }).click();

test("an unfinished return goes on in another tab and on another device, and no tab overwrites another in silence", async () => {
  const first = await browser.openAs(people.dealerAdmin, phone);
  await first.goto("/dealer/returns/new");
  await first.getByRole("checkbox", { name: "Swollen", exact: false }).first().check();
  await first.getByText("Kept for your workshop").waitFor();

  // A second tab of the same device: it has the answers, and the first keeps still from its first change on.
  const second = await first.context().newPage();
  await second.goto("/dealer/returns/new");
  expect(await second.getByRole("checkbox", { name: "Swollen", exact: false }).first().isChecked()).toBe(true);
  await second.getByRole("checkbox", { name: "Leaking", exact: false }).first().check();
  await first.getByText("This return goes on in another tab").waitFor();
  await first.getByRole("button", { name: "Go on with mine" }).click();
  await second.getByText("This return goes on in another tab").waitFor();
  await goOn(first);
  await first.getByLabel("Serial number").waitFor();
  await first.getByText("Do not go near the pack to read its label").waitFor();

  // Another device of the same workshop finds it unsent and goes on.
  const other = await browser.openAs(people.dealer, phone);
  await other.goto("/dealer");
  await other
    .getByRole("listitem")
    .filter({ hasText: "The maker was told of the danger; the return itself is not sent." })
    .first()
    .getByRole("link", { name: "Go on with it" })
    .click();
  await other.getByLabel("Serial number").waitFor();
  await other.goto("/dealer/returns/new?step=danger");
  expect(await other.getByRole("checkbox", { name: "Swollen", exact: false }).first().isChecked()).toBe(true);
  // What nobody sends is thrown away by anyone of the workshop.
  await other.goto("/dealer");
  const throwAway = other.getByRole("button", { name: /^Throw away/ });
  await throwAway.first().waitFor();
  const before = await throwAway.count();
  await throwAway.first().click();
  await expect.poll(() => throwAway.count()).toBe(before - 1);
});
