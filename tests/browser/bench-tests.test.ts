import { expect, test } from "vitest";
import { desk, lookAt, people, phone, withBrowser } from "@/tests/support/browser";

const browser = withBrowser();

test("a technician measures on a telephone; an instrument out of calibration is refused at its field", async () => {
  const page = await browser.openAs(people.service, phone);
  await page.goto("/bench?show=open");
  const row = page.getByRole("listitem").filter({ hasText: "On the bench" });
  const reference = (await row.getByRole("link").first().textContent()) ?? "";
  await page.goto(`/bench/${reference}/tests`);
  await lookAt(page, "bench-tests");
  const card = page.getByRole("article", { name: "Voltage at the terminals" });
  await card.getByText("Voltage at the terminals").click();
  await card.getByText("Make it again").click();
  await card.getByLabel("Value, V").first().fill("1");
  await card.getByLabel("Measured with").first().selectOption("V-02");
  await card.getByRole("button", { name: "Keep the result" }).click();
  await card
    .getByText(/The calibration of V-02 ended on/)
    .first()
    .waitFor();
  expect(await card.getByLabel("Value, V").first().inputValue()).toBe("1");
  await card.getByLabel("Measured with").first().selectOption("V-01");
  await card.getByRole("button", { name: "Keep the result" }).click();
  await card.getByText(/lies below the lower limit/).waitFor();
  await page.setViewportSize(desk);
  await lookAt(page, "bench-tests");
});
