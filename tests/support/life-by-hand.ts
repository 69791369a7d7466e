import type { Locator, Page } from "playwright-core";
import sharp from "sharp";
import { expect } from "vitest";
import { draftTests } from "@/lib/bench-tests/first-draft";
import { limitsFor, type TestDefinition, type TestPurpose } from "@/lib/bench-tests/test-definition.schema";
import { packedViews, sixFaces } from "@/lib/receiving/pack-faces";
import type { DangerAnswer } from "@/lib/returns/danger-signs";
import { criteria } from "@/lib/transport/criteria";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import type { PackToTry } from "@/seed/packs-to-try";
import { runClockAhead } from "./browser";
import { demoStory, noticedOn, toldOn } from "./demo-story";
import { refusedToOthers } from "./send-as-others";
import { type Answer, formWith, moveForm, sendForm, unfold } from "./send-form";

// A return taken through the pages by the people whose turn it is, each form filled by the names of its fields and sent
// with its own button. What is refused fails the test with the words of the refusal.

/** The page of a return for whoever this is: the dealer's own, or the bench. */
const pageOf = (page: Page, reference: string) =>
  `${new URL(page.url()).pathname.startsWith("/dealer") ? "/dealer/returns" : "/bench"}/${reference}`;

export async function makeMove(
  page: Page,
  reference: string,
  move: string,
  answers: Readonly<Record<string, Answer>> = {},
) {
  await page.goto(pageOf(page, reference));
  expect(await sendForm(moveForm(page, move), answers), `${move} of ${reference}`).toBeNull();
}

/** A move that others try first with the same words: none of them gets it done, and then whoever may does. */
export async function onlyBy(
  page: Page,
  others: readonly Page[],
  reference: string,
  move: string,
  answers: Readonly<Record<string, Answer>> = {},
) {
  await page.goto(pageOf(page, reference));
  const answer = await refusedToOthers(page, others, () => sendForm(moveForm(page, move), answers));
  expect(answer, `${move} of ${reference}`).toBeNull();
}

/** The words stamped on a page: where a return stands, and how it is to be handled. */
export const stamps = (page: Page) => page.locator("main .stamped").allInnerTexts();

/** Sends the form with this button, on a page of the return or any other. */
export async function send(
  page: Page,
  address: string,
  button: string,
  answers: Readonly<Record<string, Answer>> = {},
) {
  await page.goto(address);
  expect(await sendForm(formWith(page, button).first(), answers, button), `${button} at ${address}`).toBeNull();
}

/** A form that others send first, with the same words and their own sign-in: none of them gets it done. */
export async function sendOnlyBy(
  page: Page,
  others: readonly Page[],
  address: string,
  button: string,
  answers: Readonly<Record<string, Answer>> = {},
) {
  await page.goto(address);
  const form = formWith(page, button).first();
  const answer = await refusedToOthers(page, others, () => sendForm(form, answers, button));
  expect(answer, `${button} at ${address}`).toBeNull();
}

/** Service lodges what a dealer told on the telephone. */
export async function lodgeFor(
  page: Page,
  dealerCode: string,
  pack: PackToTry,
  dangerSigns: readonly DangerAnswer[] = ["none-of-these"],
  concern = "Unter Last bricht die Spannung ein, sagt der Kunde.",
): Promise<string> {
  await page.goto("/bench/new");
  await sendForm(formWith(page, "Keep it"), {
    dangerSigns,
    dealerCode,
    serial: pack.shown,
    toldOn,
    noticedOn,
    soldOnStated: pack.soldOn,
    soldOnEvidence: "delivery-receipt",
    concern,
    symptom: "cuts-out-under-load",
    noFileReason: "nothing-to-read-it-with",
    how: "send",
  });
  await page.waitForURL(/\/bench\/R-/);
  return /R-[0-9]{2}-[0-9]+-[0-9A-Z]/.exec(page.url())?.[0] ?? "";
}

/** Before it comes in nothing was examined: damaged. Before it goes out everything was: sound. Others may try it first. */
export function declareClass(
  page: Page,
  reference: string,
  leg: "to-maker" | "to-dealer" = "to-maker",
  others: readonly Page[] = [],
) {
  const isOut = leg === "to-dealer";
  const answer = isOut ? "no-sign" : "not-examined";
  return sendOnlyBy(page, others, transportPage(reference, leg), "Declare this class in my name", {
    ...Object.fromEntries(criteria.map((criterion) => [`criterion-${criterion}`, answer])),
    transportClass: isOut ? "not-damaged" : "damaged",
    reason: isOut ? "Within the limits of a new build." : "Judged from what was told on the telephone.",
  });
}

const transportPage = (reference: string, leg: string) =>
  `/bench/${reference}/transport${leg === "to-dealer" ? `/${leg}` : ""}`;

/** The box is made ready, and then it goes to us. */
export async function packAndHandOver(page: Page, reference: string): Promise<void> {
  await printAndPack(page, reference);
  await makeMove(page, reference, "hand-to-carrier");
}

/** Label, every point of the list, two photographs of the box: what goes before the carrier at the dealer's. */
export async function printAndPack(page: Page, reference: string): Promise<void> {
  await printLabel(page, `/print/${reference}/label`);
  await pack(page, `/dealer/returns/${reference}`);
}

/** The class of the way out, and the box for the dealer packed in the same way. */
export async function packForDealer(page: Page, reference: string): Promise<void> {
  await declareClass(page, reference, "to-dealer");
  await printLabel(page, `/print/${reference}/label?leg=to-dealer`);
  await pack(page, transportPage(reference, "to-dealer"));
}

async function printLabel(page: Page, address: string): Promise<void> {
  await page.goto(address);
  await page.evaluate(() => {
    // The browser's own dialog would stay open.
    window.print = () => document.body.setAttribute("data-printed", "");
  });
  await page.getByRole("button", { name: "Print" }).click();
  await page.locator("[data-printed]").waitFor();
}

/** A tick made while the page still comes to life can be lost; whoever looks at it ticks again. */
async function tick(point: Locator): Promise<void> {
  await expect
    .poll(async () => {
      if (!(await point.isChecked())) await point.click();
      return point.isChecked();
    })
    .toBe(true);
}

async function pack(page: Page, address: string): Promise<void> {
  await page.goto(address);
  const list = formWith(page, "Every point is so");
  for (const point of await list.locator("input[name=ticked]").all()) await tick(point);
  expect(await sendForm(list)).toBeNull();
  for (const view of packedViews) await keepPhotograph(page, view);
}

/** Scanned in, photographed from six sides, laid into a place, measured at 0, 1 and 24 hours by the demo's clock, and let go to the bench. */
export async function receiveAndWatch(
  page: Page,
  reference: string,
  serial: string,
  /** How far the demo's clock runs ahead when the pack comes in. */
  aheadHours = 0,
): Promise<void> {
  const goodsIn = `/bench/${reference}/receiving`;
  await send(page, goodsIn, "Record that it came in", { scanned: serial, boxCondition: "sound", signs: ["none"] });
  await send(page, goodsIn, "Lay it there");
  await watchInPlace(page, reference, aheadHours);
}

/** The same of a pack that lies in its place already. */
export async function watchInPlace(page: Page, reference: string, aheadHours = 0): Promise<void> {
  const goodsIn = `/bench/${reference}/receiving`;
  for (const view of sixFaces) {
    await send(page, goodsIn, "Keep this photograph", { view, photo: await photograph() });
  }
  for (const hours of [0, 1.1, 24.2]) {
    await runClockAhead(aheadHours + hours);
    await send(page, goodsIn, "Keep this measurement", { surfaceC: "20.4", ambientC: "20.0", terminalV: "72.1" });
  }
  await send(page, goodsIn, "Let it go to the bench");
}

/** A new certificate for every instrument whose last one has ended by this day, which is the demo's today. */
export async function calibrateAll(page: Page, today: CalendarDate): Promise<void> {
  await page.goto("/instruments");
  const ended = page.getByRole("article").filter({ hasText: /The calibration of \S+ ended on/ });
  while ((await ended.count()) > 0) {
    const form = formWith(ended.first(), "Keep it");
    const answers = {
      outcome: "passed",
      asFound: "within",
      calibratedOn: today,
      dueOn: plusDays(today, 365),
      uncertaintyPercent: "0.1",
      uncertaintyFloor: "0.001",
      certificate: "Certificate of the walk",
    };
    expect(await sendForm(form, answers)).toBeNull();
    await page.goto("/instruments");
  }
}

/** Writes a result inside its limits for every mandatory test, or for every test after work, and fails on one that is not taken. */
export async function testAll(page: Page, reference: string, modelCode: string, purpose: TestPurpose): Promise<void> {
  const found = demoStory.models.find(({ code }) => code === modelCode);
  if (found === undefined) throw new Error(`the scenario has no model ${modelCode}`);
  const tests = draftTests({ ...found.model, groupResistanceMilliohm: found.model.groupResistanceMilliohm ?? null });
  const wanted = tests.filter(({ isMandatory, isRetest }) => (purpose === "finding" ? isMandatory : isRetest));
  await page.goto(`/bench/${reference}/${purpose === "finding" ? "tests" : "work"}`);
  for (const test of wanted) {
    const form = page
      .locator("form", { has: page.locator(`input[name=testKey][value="${test.key}"]`) })
      .filter({ has: page.locator("button", { hasText: "Keep the result" }) })
      .first();
    expect(await sendForm(form, await resultInside(form, test, purpose)), test.title).toBeNull();
  }
}

async function resultInside(
  form: ReturnType<Page["locator"]>,
  test: TestDefinition,
  purpose: TestPurpose,
): Promise<Record<string, string>> {
  const limits = limitsFor(test, purpose);
  if (limits === null) return { seen: "as-expected" };
  const { lower, upper } = limits;
  const value = lower === null ? (upper ?? 0) / 2 : upper === null ? lower * 1.2 : (lower + upper) / 2;
  const usable = form.locator("select[name=instrument] option:not([value='']):not(:text('not to be used'))").first();
  return { value: value.toFixed(3), instrument: (await usable.getAttribute("value")) ?? "" };
}

/** Sends a photograph with the form of this page that asks for such a view. */
async function keepPhotograph(page: Page, view: string): Promise<void> {
  const form = page.locator("form", { has: page.locator(`input[name=view][value="${view}"]`) });
  expect(await sendForm(form, { photo: await photograph() }), view).toBeNull();
}

/** The dealer sends the receipt, and whoever of service reads it gives the answer on cover anew. */
export async function proveSale(dealer: Page, reader: Page, reference: string, soldOn: string): Promise<void> {
  await dealer.goto(`/dealer/returns/${reference}`);
  await keepPhotograph(dealer, "proof-of-sale");
  await send(reader, `/bench/${reference}`, "I have read it: give the answer anew in my name", {
    provenSoldOn: soldOn,
    why: "The receipt, photographed by the dealer.",
  });
}

let taken: Promise<Buffer> | null = null;

/** Noise, because a plain surface is told apart from a photograph. */
async function photograph() {
  taken ??= sharp({
    create: {
      width: 900,
      height: 700,
      channels: 3,
      background: "#808080",
      noise: { type: "gaussian", mean: 128, sigma: 60 },
    },
  })
    .jpeg()
    .toBuffer();
  return { name: "box.jpg", mimeType: "image/jpeg", buffer: await taken };
}

interface Proposal {
  readonly remedy: string;
  readonly confirmedFault: string;
  /** What else the remedy asks, by the identifier of its field: the amount of a refund, what a refusal names. */
  readonly fields?: Readonly<Record<string, string>>;
}

/** What whatever leaves the customer without a remedy has to name. */
export const refusalFields = {
  "refusal-term": "Clause 4: damage from outside.",
  "refusal-evidence": "Photographs 2 and 3: the case was opened with a tool.",
  "refusal-alternatives": "A fall was looked at: no mark of one.",
} as const;

/** Proposes at the desk of the return's page; a replacement takes the first revision that may replace the pack. */
export async function proposeAs(
  page: Page,
  reference: string,
  { remedy, confirmedFault, fields = {} }: Proposal,
): Promise<void> {
  await page.goto(`/bench/${reference}`);
  await unfold(formWith(page, "Propose this decision"));
  await page.locator(`input[name=remedy][value="${remedy}"]`).check();
  if (remedy === "replace") await page.locator("input[name=replacementRevisionCode]").first().check();
  await page.locator("#confirmed-fault").selectOption(confirmedFault);
  for (const [id, answer] of Object.entries(fields)) await page.locator(`#${id}`).fill(answer);
  const unseen = page.locator("#refused-unseen");
  if (await unseen.isVisible()) await unseen.fill("The dealer showed it in a call.");
  await page.locator("#reason").fill("What was measured and seen asks for it.");
  await page.getByRole("button", { name: "Propose this decision" }).click();
  await page.getByRole("heading", { name: /^Proposed: / }).waitFor();
}

/** The dealer shows the customer every notice that the place of sale asks for, and records what was said; often there is none. */
export async function showNotices(page: Page, reference: string): Promise<void> {
  await page.goto(`/dealer/returns/${reference}`);
  const open = formWith(page, "Record that it was shown");
  while ((await open.count()) > 0) {
    const choices = await open.first().locator("select[name=choice] option:not([value=''])").all();
    expect(await sendForm(open.first(), { choice: (await choices.at(-1)?.getAttribute("value")) ?? "" })).toBeNull();
    await page.goto(`/dealer/returns/${reference}`);
  }
}

interface Workshop {
  readonly technician: Page;
  readonly lead: Page;
}

/** Another pack is kept from the store, released as built, and packed for the way to the dealer; its serial. */
export async function makeAnotherReady({ technician, lead }: Workshop, reference: string): Promise<string> {
  const kept = await keepFromStore(technician, reference);
  await makeMove(technician, reference, "start-work");
  await makeMove(technician, reference, "finish-work", { releaseSignature: "Jorun Halfvarden", reason: "As built." });
  await packForDealer(lead, reference);
  return kept;
}

/** The oldest pack of the store that may go out. */
async function keepFromStore(page: Page, reference: string): Promise<string> {
  await page.goto(`/bench/${reference}/remedy`);
  const kept = ((await page.locator("#unit-serial-choices li").first().textContent()) ?? "").trim();
  await send(page, `/bench/${reference}/remedy`, "Keep this pack", { serial: kept });
  return kept;
}

/** Adds a readings file to an open return, and waits until the page has read it. */
export async function addReadings(page: Page, reference: string, csv: string): Promise<void> {
  await page.goto(pageOf(page, reference));
  await page.getByText("Add readings of this pack", { exact: true }).click();
  const file = { name: "readings.csv", mimeType: "text/csv", buffer: Buffer.from(csv) };
  await page.locator("input[type=file]").last().setInputFiles(file);
  const form = formWith(page, "Add these readings");
  await form.waitFor({ timeout: 120_000 });
  expect(await sendForm(form, { why: "Read out at the counter, as asked." })).toBeNull();
}
