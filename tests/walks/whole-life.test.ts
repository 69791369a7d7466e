import type { Page } from "playwright-core";
import { afterAll, beforeEach, expect, test } from "vitest";
import { packsToTry } from "@/seed/packs-to-try";
import { people, runClockAhead, withBrowser } from "@/tests/support/browser";
import { demoStory, noticedOn } from "@/tests/support/demo-story";
import {
  declareClass,
  lodgeFor,
  makeAnotherReady,
  makeMove,
  onlyBy,
  packAndHandOver,
  packForDealer,
  proposeAs,
  receiveAndWatch,
  send,
  showNotices,
  stamps,
  testAll,
} from "@/tests/support/life-by-hand";
import { printsIn } from "@/tests/support/prints-in";
import { refusedAtField } from "@/tests/support/refused-at-field";
import { formWith, moveForm, sendForm } from "@/tests/support/send-form";

const browser = withBrowser();
const packOf = (model: string) => {
  const pack = packsToTry(demoStory, "D01").findLast(
    ({ serial, soldOn }) => serial.startsWith(model) && soldOn <= noticedOn,
  );
  if (pack === undefined) throw new Error(`the scenario holds no ${model} to return`);
  return pack;
};
/** Longer than the fourteen days after the hand-over before which nothing is closed. */
const AFTER_CLOSING_TIME_HOURS = 16 * 24;

const inTwentyDays = new Date(Date.now() + 20 * 86_400_000).toISOString().slice(0, 10);

beforeEach(() => runClockAhead(0));
afterAll(() => runClockAhead(0));

async function everybody() {
  return {
    dealer: await browser.openAs(people.dealer),
    technician: await browser.openAs(people.service),
    second: await browser.openAs(people.secondTechnician),
    lead: await browser.openAs(people.lead),
    manager: await browser.openAs(people.manager),
    finance: await browser.openAs(people.finance),
    otherDealer: await browser.openAs(people.otherDealer),
  };
}

test("a repair is walked by hand from the telephone to closed, each step by the right people only", async () => {
  const { dealer, technician, second, lead, manager, finance, otherDealer } = await everybody();
  const pack = packOf("TF");
  const serial = pack.shown;
  const reference = await lodgeFor(second, "D01", pack);
  await onlyBy(technician, [dealer, manager, finance], reference, "take");
  await declareClass(lead, reference, "to-maker", [technician, dealer, finance]);
  await onlyBy(technician, [dealer, otherDealer, manager, finance], reference, "approve-return", {
    reason: "It needs the bench.",
  });
  await printsIn("de", lead, reference);
  await packAndHandOver(dealer, reference);
  await receiveAndWatch(technician, reference, serial);
  await onlyBy(technician, [dealer, manager, finance], reference, "start-test");
  await testAll(technician, reference, "TF", "finding");
  await send(technician, `/bench/${reference}/tests`, "Code the fault", {
    customerSaw: "cuts-out-under-load",
    found: "high-resistance",
    part: "main-lead",
    cause: "our-work",
    howSure: "shown",
  });
  await proposeAs(technician, reference, { remedy: "repair", confirmedFault: "main-lead" });
  await showNotices(dealer, reference);
  // Whoever proposed does not approve, nor does the manager where no lead proposed.
  await onlyBy(lead, [technician, manager, dealer], reference, "approve");

  const lot = `LD-${reference}`;
  await send(technician, "/parts", "Book them in", { kind: "lead", lotCode: lot, supplier: "S9", quantity: "3" });
  await makeMove(technician, reference, "start-work", { partsAndPlan: "New main lead." });
  // A part from a lot that nobody booked in is refused at the lot.
  await technician.goto(`/bench/${reference}/work`);
  await refusedAtField(formWith(technician, "Record this work"), {
    answers: { operation: "lead-exchanged", lotCode: `${lot}-UNKNOWN`, minutes: "25", note: "Lug was loose." },
    at: "lotCode",
    sentence: /lot/,
  });
  await send(technician, `/bench/${reference}/work`, "Record this work", {
    operation: "lead-exchanged",
    lotCode: lot,
    minutes: "25",
    note: "Lug was loose; the old lead is kept.",
  });
  await testAll(technician, reference, "TF", "retest");
  // The one who did the work does not release it.
  await technician.goto(`/bench/${reference}/work`);
  expect(await technician.getByRole("button", { name: "Release the pack" }).count()).toBe(0);
  await send(second, `/bench/${reference}/work`, "Release the pack", { signature: "Mirela Stoykova" });
  await onlyBy(second, [dealer, manager, finance], reference, "finish-work", {
    reason: "Inside the limits of a new build.",
  });
  await packForDealer(lead, reference);
  await onlyBy(dealer, [otherDealer, manager, finance], reference, "hand-back", { outgoingSerial: serial });
  await claimAndPay({ dealer, finance, manager }, reference, { kind: "freight" });
  await runClockAhead(AFTER_CLOSING_TIME_HOURS);
  // A sign-in lasts a week: after two everybody signs in again.
  const closer = await browser.openAs(people.manager);
  await onlyBy(closer, [await browser.openAs(people.service)], reference, "close");
  await closer.getByText("none changed or missing").waitFor();
  expect(await stamps(closer)).toContain("Closed");
});

test("a replacement is walked by hand to closed: kept from the store, scanned at the counter, linked to the old pack", async () => {
  const { dealer, technician, second, lead, finance, manager } = await everybody();
  const pack = packOf("GW");
  const serial = pack.shown;
  const reference = await lodgeFor(second, "D01", pack);
  await makeMove(technician, reference, "take");
  await proposeAs(technician, reference, { remedy: "replace", confirmedFault: "weak-cell" });
  await showNotices(dealer, reference);
  await makeMove(lead, reference, "approve");
  const kept = await makeAnotherReady({ technician, lead }, reference);
  // Another pack than the one that was kept is no hand-over.
  await dealer.goto(`/dealer/returns/${reference}`);
  expect(await sendForm(moveForm(dealer, "hand-back"), { outgoingSerial: serial })).toMatch(/not the/i);
  await makeMove(dealer, reference, "hand-back", { outgoingSerial: kept });
  await send(lead, `/bench/${reference}/remedy`, "Tell the dealer", {
    order: "recycle-there",
    dueOn: inTwentyDays,
    why: "A licensed recycler fetches it; it is not posted.",
  });
  await send(dealer, `/dealer/returns/${reference}`, "It was taken away", {
    certificate: "Fetched by a licensed recycler, certificate 17.",
  });
  // The old pack has not come in, so there is no freight to pay yet; the exchange at the counter was made.
  await claimAndPay({ dealer, finance, manager }, reference, exchange);
  const closer = await closeInTime(reference);
  await closer.goto(`/bench/${reference}/remedy`);
  await closer.getByText(`${kept} in place of the old pack`).waitFor();
});

test("a pack from a crash is never sent in: a specialist collects it under its flag, the safety officer alone writes it down, the customer gets another", async () => {
  const { dealer, technician, second, lead, manager, finance } = await everybody();
  const officer = await browser.openAs(people.safetyOfficer);
  const reference = await lodgeFor(second, "D01", packOf("BR"), ["impact-or-water"]);
  await makeMove(technician, reference, "take");
  // No milder class can be declared of it, and under this one nobody calls it in.
  await send(lead, `/bench/${reference}/transport`, "Declare this class in my name", {
    transportClass: "do-not-ship",
    reason: "It was in a crash and nobody has looked at it since.",
  });
  await lead.goto(`/bench/${reference}`);
  expect(await moveForm(lead, "approve-return").count(), "called in although it is set apart").toBe(0);
  await proposeAs(technician, reference, { remedy: "isolate", confirmedFault: "unknown" });
  await makeMove(lead, reference, "approve");
  // Kept apart, and everybody sees it; whoever is not the safety officer can only make it graver.
  for (const page of [technician, lead, manager]) {
    await page.goto(`/bench/${reference}`);
    expect(await trackChoices(page, "safety"), page.url()).not.toContain("caution");
  }
  const collected = "Record in my name that it was collected";
  for (const page of [technician, lead, manager]) {
    await page.goto(`/bench/${reference}`);
    expect(await formWith(page, collected).count(), page.url()).toBe(0);
  }
  await send(officer, `/bench/${reference}`, collected, {
    collectedBy: "Holm Hazard Transport, T. Ruiz",
    paperNumber: "HT-17",
    collectedOn: noticedOn,
  });
  await officer.goto(`/bench/${reference}`);
  await officer.getByText("Collected by a specialist").first().waitFor();
  // Its flag is still up: being fetched made it no safer.
  expect(await trackChoices(officer, "safety")).toContain("caution");

  // Decided anew by others than before: the customer gets another pack, the old one is with the specialist.
  await makeMove(manager, reference, "reopen", { reason: "The customer needs a pack." });
  await proposeAs(second, reference, { remedy: "replace", confirmedFault: "mechanical-damage" });
  await showNotices(dealer, reference);
  // The lead had a part in the decision before, so a manager stands in first; it is not what was suggested, so a second person follows.
  await onlyBy(manager, [second, technician, dealer, finance], reference, "approve");
  const other = await browser.openAs(people.secondManager);
  await onlyBy(other, [second, lead, dealer], reference, "approve-as-second", { reason: "The old pack is gone." });
  const kept = await makeAnotherReady({ technician, lead }, reference);
  await makeMove(dealer, reference, "hand-back", { outgoingSerial: kept });
  await claimAndPay({ dealer, finance, manager }, reference, exchange);
  await closeInTime(reference);
});

/** A manager closes it, once nobody may object any more; the manager's page. */
async function closeInTime(reference: string): Promise<Page> {
  await runClockAhead(AFTER_CLOSING_TIME_HOURS);
  const closer = await browser.openAs(people.manager);
  await makeMove(closer, reference, "close");
  await closer.goto(`/bench/${reference}`);
  expect(await stamps(closer)).toContain("Closed");
  return closer;
}

const trackForm = (page: Page, track: string) =>
  page.locator("form", { has: page.locator(`input[name=track][value="${track}"]`) });

const trackChoices = (page: Page, track: string) =>
  trackForm(page, track)
    .locator("select[name=to] option")
    .evaluateAll((options) => options.map((option) => option.getAttribute("value")));

/** The exchange at the counter, for which no pack has to have come in. */
const exchange = { kind: "labour", operation: "exchange", minutes: "20" };

interface MoneyPeople {
  readonly dealer: Page;
  readonly finance: Page;
  readonly manager: Page;
}

/** Claimed by the dealer, checked by finance, approved by another, put on a statement and paid. */
async function claimAndPay(
  { dealer, finance, manager }: MoneyPeople,
  reference: string,
  claim: Readonly<Record<string, string>>,
): Promise<void> {
  await send(dealer, "/dealer/statement", "Claim", { reference, ...claim });
  for (const [page, name] of [
    [finance, "check"],
    [manager, "approve"],
  ] as const) {
    await page.goto("/money");
    const form = page
      .getByRole("row")
      .filter({ hasText: reference })
      .locator("form", { has: page.locator(`input[name=name][value="${name}"]`) });
    expect(await sendForm(form), name).toBeNull();
  }
  await finance.goto("/money");
  const close = finance.getByRole("button", { name: /^Close a statement for Quellmoor Zweirad/ });
  // A click made while the page still comes to life can be lost; whoever looks at it clicks again.
  await expect
    .poll(
      async () => {
        if ((await close.count()) > 0) await close.click();
        return close.count();
      },
      { interval: 5_000, timeout: 60_000 },
    )
    .toBe(0);
  const paying = finance
    .locator("form", { has: finance.getByRole("button", { name: /^Record statement .* as paid/ }) })
    .first();
  expect(await sendForm(paying, { reason: `Transfer ${reference}` })).toBeNull();
}
