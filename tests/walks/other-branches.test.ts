import type { Page } from "playwright-core";
import { afterAll, beforeEach, expect, test } from "vitest";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { packsToTry } from "@/seed/packs-to-try";
import { people, runClockAhead, withBrowser } from "@/tests/support/browser";
import { demoStory, noticedOn } from "@/tests/support/demo-story";
import {
  addReadings,
  calibrateAll,
  declareClass,
  lodgeFor,
  makeAnotherReady,
  onlyBy,
  packAndHandOver,
  packForDealer,
  proposeAs,
  proveSale,
  receiveAndWatch,
  refusalFields,
  send,
  sendOnlyBy,
  showNotices,
  stamps,
  testAll,
} from "@/tests/support/life-by-hand";
import { packWithRivalProofs } from "@/tests/support/rival-proofs";
import { type Answer, moveForm } from "@/tests/support/send-form";

// The branches of a return's life that lead away from the straight road, each walked in the browser, and at the end a count:
// every move of the table was made by hand, or by the program where only the program makes it.

const browser = withBrowser();
const DAY_HOURS = 24;
const AFTER_CLOSING_TIME_DAYS = 16;
const made = new Set<MoveName>(["lodge", "propose", "receive"]);

/** Packs that nobody has returned, the newest first, those of the other walks left out. */
const sold = packsToTry(demoStory, "D01").filter(({ soldOn }) => soldOn <= noticedOn);
const packOf = (model: string, position: number) => {
  const pack = sold.filter(({ serial }) => serial.startsWith(model)).at(-2 - position);
  if (pack === undefined) throw new Error(`the scenario holds no ${model} to return`);
  return pack;
};

beforeEach(() => runClockAhead(0));
afterAll(() => runClockAhead(0));

interface Step {
  readonly by: Page;
  readonly name: MoveName;
  readonly answers?: Readonly<Record<string, Answer>>;
  /** Who send the same first, with their own sign-in; none of them gets it done. */
  readonly notBy?: readonly Page[];
}

async function step(reference: string, { by, name, answers = {}, notBy = [] }: Step): Promise<void> {
  await onlyBy(by, notBy, reference, name, answers);
  made.add(name);
}

/** A move that only the time makes: the program's rounds are a minute apart. */
async function madeByTime(page: Page, reference: string, name: MoveName, words: string): Promise<void> {
  await expect
    .poll(
      async () => {
        await page.goto(`/bench/${reference}`);
        return page.getByText(words, { exact: false }).count();
      },
      { timeout: 280_000, interval: 5_000 },
    )
    .toBeGreaterThan(0);
  made.add(name);
}

/** Where the dealer is whose returns are walked: near midnight it is another day elsewhere. */
const dealersZone = demoStory.dealers.find(({ code }) => code === "D01")?.zone ?? "UTC";
const today = () => civilDateAt(new Date(), dealersZone);
const why = (reason: string) => ({ reason });

test("asked, helped from a distance, not helped for long, and taken back", async () => {
  const dealer = await browser.openAs(people.dealer);
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const manager = await browser.openAs(people.manager);
  const otherDealer = await browser.openAs(people.otherDealer);
  const pack = packOf("TF", 0);
  const reference = await lodgeFor(second, "D01", pack);
  await step(reference, { by: technician, name: "take" });
  await step(reference, { by: second, name: "take-over", answers: why("Jorun is ill."), notBy: [dealer, manager] });
  await step(reference, {
    by: second,
    name: "ask",
    answers: { ...why("Which charger was used?"), dueOn: today() },
    notBy: [dealer, manager],
  });
  await step(reference, {
    by: dealer,
    name: "answer",
    answers: why("The small one, 10 A."),
    notBy: [otherDealer, manager],
  });
  await step(reference, {
    by: second,
    name: "help",
    answers: { ...why("Unplug the display for a minute."), logWasAskedFor: true },
    notBy: [dealer, manager],
  });
  await addReadings(dealer, reference, pack.log({ fault: "no-fault-found", groups: [], severity: "clear" }));
  made.add("add-readings");
  await step(reference, {
    by: dealer,
    name: "confirm-help",
    answers: why("It runs again."),
    notBy: [otherDealer, manager],
  });
  await showNotices(dealer, reference);
  // Not by whoever lodged it: help from a distance is a decision too.
  await step(reference, {
    by: technician,
    name: "solve-remotely",
    answers: { ...why("The display held it awake."), confirmedFault: "outside-cause" },
    notBy: [dealer, manager],
  });
  await dealer.goto(`/dealer/returns/${reference}`);
  await step(reference, {
    by: dealer,
    name: "reopen-solved",
    answers: why("It cut out again the next day."),
    notBy: [otherDealer, manager],
  });
  await proveSale(dealer, technician, reference, pack.soldOn);
  made.add("prove-sale");
  await step(reference, {
    by: dealer,
    name: "withdraw",
    answers: why("The customer keeps it."),
    notBy: [otherDealer, manager],
  });
  await technician.goto(`/bench/${reference}`);
  expect(await stamps(technician)).toContain("Withdrawn");
  // Another pack, lodged twice, with a receipt of another day each: the lead chooses between the two.
  const rivals = packWithRivalProofs("D01");
  const first = await lodgeFor(second, "D01", rivals.pack);
  await proveSale(dealer, technician, first, rivals.firstOn);
  await dealer.goto(`/dealer/returns/${first}`);
  await step(first, { by: dealer, name: "withdraw", answers: why("The customer keeps it.") });
  const again = await lodgeFor(second, "D01", rivals.pack);
  await proveSale(dealer, technician, again, rivals.laterOn);
  await sendOnlyBy(
    await browser.openAs(people.lead),
    [technician, dealer, manager],
    `/bench/${again}`,
    "This one counts: give the answer anew in my name",
    { chosenOn: rivals.laterOn, why: "The first receipt was of another pack." },
  );
  made.add("choose-proof");
});

test("asked twice more, not answered, and let lapse by a person where only the time proposes it", async () => {
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const reference = await lodgeFor(second, "D01", packOf("GW", 0));
  await step(reference, { by: technician, name: "take" });
  await step(reference, { by: technician, name: "ask", answers: { ...why("Is the seal whole?"), dueOn: today() } });
  await runClockAhead(4 * DAY_HOURS);
  await step(reference, { by: technician, name: "remind" });
  await runClockAhead(8 * DAY_HOURS);
  // A return is moved by time at most once a day.
  const waiting = await browser.openAs(people.service);
  await madeByTime(waiting, reference, "remind", "Reminder 2 of 2");
  await runClockAhead(10 * DAY_HOURS);
  await madeByTime(waiting, reference, "propose-lapse", "Service decides.");
  const lead = await browser.openAs(people.lead);
  await step(reference, {
    by: lead,
    name: "lapse-unanswered",
    answers: why("Asked three times."),
    notBy: [await browser.openAs(people.manager), await browser.openAs(people.dealer)],
  });
  expect(await stamps(lead)).toContain("Lapsed");
  // The answer comes after all, and the return goes on where it was asked.
  await step(reference, {
    by: await browser.openAs(people.dealer),
    name: "take-up-again",
    answers: why("The seal is whole."),
    notBy: [await browser.openAs(people.otherDealer), await browser.openAs(people.manager)],
  });
  await lead.goto(`/bench/${reference}`);
  expect(await stamps(lead)).toContain("Being looked at");
});

test("refused by two people, stopped once for safety, objected to, refunded, closed and opened again", async () => {
  const dealer = await browser.openAs(people.dealer);
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const lead = await browser.openAs(people.lead);
  const manager = await browser.openAs(people.manager);
  const secondManager = await browser.openAs(people.secondManager);
  const officer = await browser.openAs(people.safetyOfficer);
  const finance = await browser.openAs(people.finance);
  const otherDealer = await browser.openAs(people.otherDealer);
  const pack = packOf("TF", 1);
  const reference = await lodgeFor(second, "D01", pack);
  const refusal = { remedy: "refuse", confirmedFault: "outside-cause", fields: refusalFields };
  await step(reference, { by: technician, name: "take" });
  await proposeAs(technician, reference, refusal);
  await step(reference, {
    by: lead,
    name: "send-back",
    answers: why("Look at the seal too."),
    notBy: [technician, dealer],
  });
  await proposeAs(technician, reference, refusal);
  await step(reference, {
    by: officer,
    name: "veto",
    answers: why("Was it dropped?"),
    notBy: [technician, dealer, manager],
  });
  await proposeAs(technician, reference, refusal);
  await showNotices(dealer, reference);
  await step(reference, { by: lead, name: "approve", notBy: [technician, dealer] });
  // Whoever approved first is not the second person too.
  await step(reference, {
    by: manager,
    name: "approve-as-second",
    answers: why("Seen."),
    notBy: [lead, technician, dealer],
  });
  await step(reference, {
    by: technician,
    name: "ready-without-work",
    answers: { packIsSafe: true },
    notBy: [dealer, manager],
  });
  await step(reference, { by: dealer, name: "hand-back", answers: { outgoingSerial: pack.shown } });
  await step(reference, {
    by: dealer,
    name: "object",
    answers: why("Nobody opened it."),
    notBy: [technician, lead, manager],
  });

  // Those who had a part in the refusal do not judge it again.
  await proposeAs(second, reference, {
    remedy: "refund",
    confirmedFault: "unknown",
    fields: { "refund-amount": "400.00", "refund-currency": "EUR" },
  });
  await showNotices(dealer, reference);
  await step(reference, { by: secondManager, name: "approve", notBy: [second, lead, manager, dealer] });
  await secondManager.goto(`/bench/${reference}`);
  if ((await moveForm(secondManager, "approve-as-second").count()) > 0)
    throw new Error("a second person is wanted although one approval was to be enough");
  for (const to of ["offered", "refund-agreed"])
    await send(technician, `/bench/${reference}/remedy`, "Record it", { to, reason: "Told on the telephone." });
  await send(finance, `/bench/${reference}/remedy`, "Record it", { to: "refund-paid", reason: "Transfer 4711." });
  await step(reference, { by: technician, name: "ready-without-work", notBy: [dealer, manager, finance] });
  await step(reference, { by: dealer, name: "hand-back", notBy: [otherDealer, manager, finance] });
  await runClockAhead(AFTER_CLOSING_TIME_DAYS * DAY_HOURS);
  const closer = await browser.openAs(people.manager);
  await step(reference, { by: closer, name: "close", answers: { moneySettled: true } });
  await step(reference, {
    by: closer,
    name: "reopen",
    answers: why("A second defect was told."),
    notBy: [await browser.openAs(people.dealer)],
  });
  expect(await stamps(closer)).toContain("Being looked at");
});

test("a refusal that is objected to is upheld by people who had no part in it, and the pack goes back with a second letter", async () => {
  const dealer = await browser.openAs(people.dealer);
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const lead = await browser.openAs(people.lead);
  const manager = await browser.openAs(people.manager);
  const secondManager = await browser.openAs(people.secondManager);
  const finance = await browser.openAs(people.finance);
  const otherDealer = await browser.openAs(people.otherDealer);
  const pack = packOf("TF", 6);
  const reference = await lodgeFor(second, "D01", pack);
  const refusal = { remedy: "refuse", confirmedFault: "outside-cause", fields: refusalFields };
  const gotLetter = { letterGivenOn: today() };
  await step(reference, { by: technician, name: "take" });
  await proposeAs(technician, reference, refusal);
  await showNotices(dealer, reference);
  await step(reference, { by: lead, name: "approve" });
  await step(reference, { by: manager, name: "approve-as-second", answers: why("Seen.") });
  await step(reference, {
    by: dealer,
    name: "give-letter",
    answers: gotLetter,
    notBy: [otherDealer, manager, finance],
  });
  await step(reference, {
    by: dealer,
    name: "object",
    answers: why("Nobody opened it."),
    notBy: [otherDealer, technician, lead, manager],
  });
  await proposeAs(second, reference, refusal);
  await showNotices(dealer, reference);
  await step(reference, { by: secondManager, name: "approve", notBy: [second, lead, manager, dealer] });
  await step(reference, {
    by: manager,
    name: "approve-as-second",
    answers: why("Looked at anew by others, and upheld."),
    notBy: [second, secondManager, dealer],
  });
  // The first letter was of the first decision: this one is given, and its time begins, anew.
  await step(reference, { by: dealer, name: "give-letter", answers: gotLetter });
  await step(reference, { by: technician, name: "ready-without-work", answers: { packIsSafe: true } });
  await step(reference, { by: dealer, name: "hand-back", answers: { outgoingSerial: pack.shown } });
  await technician.goto(`/bench/${reference}`);
  expect(await stamps(technician)).toContain("Handed back");
});

test("leave to send runs out and is given anew, another pack lies in the box, nothing is found, and the pack goes back as it is", async () => {
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const lead = await browser.openAs(people.lead);
  const dealer = await browser.openAs(people.dealer);
  const otherDealer = await browser.openAs(people.otherDealer);
  const manager = await browser.openAs(people.manager);
  const finance = await browser.openAs(people.finance);
  const pack = packOf("TF", 2);
  const wrong = packOf("TF", 3);
  const reference = await lodgeFor(second, "D01", pack);
  await step(reference, { by: technician, name: "take" });
  await declareClass(lead, reference, "to-maker", [technician, dealer, finance]);
  await step(reference, {
    by: technician,
    name: "approve-return",
    answers: why("It needs the bench."),
    notBy: [dealer, otherDealer, manager, finance],
  });
  await runClockAhead(15 * DAY_HOURS);
  const later = await browser.openAs(people.lead);
  await madeByTime(later, reference, "lapse-approval", "Lapsed");
  await declareClass(later, reference);
  await step(reference, { by: later, name: "renew-approval", answers: why("The dealer was away.") });
  const laterDealer = await browser.openAs(people.dealer);
  await packAndHandOver(laterDealer, reference);
  made.add("hand-to-carrier");
  // The depot gives it back: class, label and box were for that journey, so it is declared and packed anew before it leaves again.
  const laterOther = await browser.openAs(people.otherDealer);
  const laterManager = await browser.openAs(people.manager);
  await step(reference, {
    by: laterDealer,
    name: "come-back",
    answers: why("The depot did not take the box."),
    notBy: [laterOther, laterManager],
  });
  await declareClass(later, reference);
  await packAndHandOver(laterDealer, reference);
  const goodsIn = await browser.openAs(people.service);
  await send(goodsIn, `/bench/${reference}/receiving`, "Record that it came in", {
    scanned: wrong.shown,
    boxCondition: "sound",
    signs: ["none"],
  });
  await send(goodsIn, `/bench/${reference}/receiving`, "It is settled", {
    outcome: "other-pack",
    how: "The label of the pack, read by two people.",
  });
  made.add("await-again");
  // The right pack leaves under papers of its own: nothing of the wrong box counts for it.
  await declareClass(later, reference);
  await packAndHandOver(laterDealer, reference);
  await receiveAndWatch(goodsIn, reference, pack.shown, 15 * DAY_HOURS);
  await step(reference, { by: goodsIn, name: "start-test" });
  // Calibrations end in the meantime, and nothing is measured with what nobody vouches for.
  await calibrateAll(goodsIn, plusDays(today(), 16));
  await testAll(goodsIn, reference, "TF", "finding");
  await send(goodsIn, `/bench/${reference}/tests`, "Code the fault", {
    customerSaw: "cuts-out-under-load",
    found: "nothing-found",
    part: "none",
    cause: "no-fault",
    howSure: "shown",
  });
  const judge = await browser.openAs(people.lead);
  await send(judge, `/bench/${reference}/tests`, "Leave it out", {
    why: "Two others of its lot were searched in vain.",
  });
  await proposeAs(goodsIn, reference, { remedy: "return-as-is", confirmedFault: "no-fault-found" });
  await showNotices(laterDealer, reference);
  await step(reference, { by: judge, name: "approve" });
  await laterManager.goto(`/bench/${reference}`);
  if ((await moveForm(laterManager, "approve-as-second").count()) > 0)
    await step(reference, { by: laterManager, name: "approve-as-second", answers: why("Seen.") });
  await step(reference, {
    by: goodsIn,
    name: "ready-without-work",
    answers: { packIsSafe: true },
    notBy: [laterDealer, laterManager],
  });
  await packForDealer(judge, reference);
  await step(reference, {
    by: laterDealer,
    name: "hand-back",
    answers: { outgoingSerial: pack.shown },
    notBy: [laterManager, laterOther],
  });
});

test("complained of again under the serial of the pack that was given in its place, and joined with the first return", async () => {
  const dealer = await browser.openAs(people.dealer);
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const lead = await browser.openAs(people.lead);
  const pack = packOf("BR", 0);
  const first = await lodgeFor(second, "D01", pack);
  await step(first, { by: technician, name: "take" });
  await proposeAs(technician, first, { remedy: "replace", confirmedFault: "weak-cell" });
  await showNotices(dealer, first);
  await step(first, { by: lead, name: "approve" });
  const kept = await makeAnotherReady({ technician, lead }, first);
  await step(first, { by: dealer, name: "hand-back", answers: { outgoingSerial: kept } });
  const again = await lodgeFor(second, "D01", { ...pack, shown: kept });
  await step(again, { by: technician, name: "take" });
  await step(again, {
    by: technician,
    name: "merge",
    answers: { ...why("Told once more before the new pack was fitted."), duplicateOf: first },
    notBy: [dealer],
  });
  await technician.goto(`/bench/${again}`);
  expect(await stamps(technician)).toContain("Joined with another return");
});

test("disposed of at the dealer's by those who fetch it, decided by two people", async () => {
  const dealer = await browser.openAs(people.dealer);
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const lead = await browser.openAs(people.lead);
  const manager = await browser.openAs(people.manager);
  const finance = await browser.openAs(people.finance);
  const otherDealer = await browser.openAs(people.otherDealer);
  const reference = await lodgeFor(second, "D01", packOf("BR", 1));
  await step(reference, { by: technician, name: "take" });
  await proposeAs(technician, reference, { remedy: "dispose", confirmedFault: "water-ingress", fields: refusalFields });
  await showNotices(dealer, reference);
  await step(reference, { by: lead, name: "approve", notBy: [technician, manager, dealer] });
  await step(reference, {
    by: manager,
    name: "approve-as-second",
    answers: why("Seen."),
    notBy: [lead, technician, dealer],
  });
  await step(reference, {
    by: technician,
    name: "start-work",
    answers: { partsAndPlan: "Fetched by a licensed recycler." },
    notBy: [dealer, manager, finance],
  });
  await step(reference, {
    by: second,
    name: "finish-work",
    answers: { ...why("Gone."), releaseSignature: "Mirela Stoykova", takenAwayBy: "Recycler, certificate 18" },
    notBy: [dealer, manager, finance],
  });
  await step(reference, { by: dealer, name: "hand-back", notBy: [otherDealer, manager, finance] });
  expect(await stamps(dealer)).toContain("Disposal confirmed");
});

test("every move of the table was made in the browser", () => {
  // A return that is not sent yet is kept beside the table of moves; drafts.test.ts walks that.
  expect(moveNames.filter((name) => name !== "draft" && !made.has(name))).toEqual([]);
});
