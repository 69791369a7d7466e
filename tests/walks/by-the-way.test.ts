import type { Page } from "playwright-core";
import { afterAll, beforeEach, expect, test } from "vitest";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
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
  printAndPack,
  proposeAs,
  receiveAndWatch,
  send,
  sendOnlyBy,
  showNotices,
  stamps,
  testAll,
  watchInPlace,
} from "@/tests/support/life-by-hand";
import { refusedToOthers } from "@/tests/support/send-as-others";
import { formWith, moveForm, sendForm } from "@/tests/support/send-form";

// What lies beside the road of a return and is walked nowhere else: a loan, a pack found in another's box, the old pack after
// its replacement, another maker's part, a set that is held back. Each step is first tried by those who may not.

const browser = withBrowser();
/** Packs that nobody has returned, the oldest first: the other walks take the newest. */
const sold = packsToTry(demoStory, "D01").filter(({ soldOn }) => soldOn <= noticedOn);
const packOf = (model: string, position: number) => {
  const pack = sold.filter(({ serial }) => serial.startsWith(model)).at(-8 - position);
  if (pack === undefined) throw new Error(`the scenario holds no ${model} to return`);
  return pack;
};
const inTwentyDays = plusDays(civilDateAt(new Date(), "UTC"), 20);

beforeEach(() => runClockAhead(0));
afterAll(() => runClockAhead(0));

async function everybody() {
  return {
    dealer: await browser.openAs(people.dealer),
    otherDealer: await browser.openAs(people.otherDealer),
    technician: await browser.openAs(people.service),
    second: await browser.openAs(people.secondTechnician),
    lead: await browser.openAs(people.lead),
    manager: await browser.openAs(people.manager),
    officer: await browser.openAs(people.safetyOfficer),
    finance: await browser.openAs(people.finance),
  };
}

test("a pack of the dealer's own is lent meanwhile, comes back, and only then may another be lent", async () => {
  const { dealer, otherDealer, second, manager, finance } = await everybody();
  const [lent, another] = stockOf("D01");
  const reference = await lodgeFor(second, "D01", packOf("TF", 0));
  const page = `/dealer/returns/${reference}`;
  await sendOnlyBy(dealer, [otherDealer, manager, finance], page, "Record the loan", { serial: lent });
  await dealer.getByText("not back yet").waitFor();
  // One at a time: the form to lend is gone until the first is back.
  expect(await formWith(dealer, "Record the loan").count()).toBe(0);
  await sendOnlyBy(dealer, [otherDealer, manager, finance], page, "It is back", {
    look: "as-lent",
    condition: "As lent, half charged.",
  });
  await dealer.getByText("As lent, half charged.").waitFor();
  await dealer.goto(page);
  // A pack that does not lie with this dealer is not lent, and the page says why.
  expect(await sendForm(formWith(dealer, "Record the loan"), { serial: packOf("TF", 1).shown })).toMatch(/in service/);
  await send(dealer, page, "Record the loan", { serial: another });
});

/** Serials as on the label of packs that lie in a dealer's stock. */
function stockOf(dealerCode: string): [string, string] {
  const gone = new Set([
    ...demoStory.sales.map(({ serial }) => serial),
    ...demoStory.returns.map(({ serial }) => serial),
    ...demoStory.replacements.flatMap(({ oldSerial, newSerial }) => [oldSerial, newSerial]),
  ]);
  const [one, two] = demoStory.packs.flatMap((pack) => {
    const reading = readSerial(pack.serial);
    if (pack.dealerCode !== dealerCode || gone.has(pack.serial) || reading.kind !== "serial") return [];
    return [groupSerial(reading.serial)];
  });
  if (one === undefined || two === undefined)
    throw new Error(`the scenario leaves ${dealerCode} no two packs in stock`);
  return [one, two];
}

test("a customer's contact is sealed, shown for a reason to those who may, and the page says at once who looked", async () => {
  const { dealer, otherDealer, technician, second, lead, manager, finance } = await everybody();
  const reference = await lodgeFor(second, "D01", packOf("TF", 1));
  const given = { contact: "+49 000 1234567", agreed: true };
  await sendOnlyBy(dealer, [otherDealer, technician, manager], `/dealer/returns/${reference}`, "Keep it", given);
  await technician.goto(`/bench/${reference}`);
  expect(await technician.getByText("+49 000 1234567").count()).toBe(0);
  const show = "Show it and leave an entry in my name";
  const why = { why: "Packs of its lot swelled: the customer is warned." };
  await sendOnlyBy(lead, [technician, manager, finance, otherDealer], `/bench/${reference}`, show, why);
  await lead.getByText("+49 000 1234567").waitFor();
  await lead.getByText(`looked at it,`, { exact: false }).waitFor();
  expect(await lead.getByText("Nobody at the maker has looked at it.").count()).toBe(0);
  await dealer.goto(`/dealer/returns/${reference}`);
  await dealer.getByText("Packs of its lot swelled").waitFor();
  await sendOnlyBy(dealer, [otherDealer, lead, manager], `/dealer/returns/${reference}`, "Erase it");
  await lead.goto(`/bench/${reference}`);
  await lead.getByText("No contact of the customer is kept.").waitFor();
});

test("a pack found in another's box is scanned in under its own return, held back with its set and let go alone by another person", async () => {
  const { dealer, otherDealer, technician, second, lead, manager, officer, finance } = await everybody();
  const awaited = packOf("TF", 2);
  const found = packOf("TF", 3);
  const waiting = await lodgeFor(second, "D01", awaited);
  const own = await lodgeFor(second, "D01", found);
  await makeMove(technician, waiting, "take");
  await declareClass(lead, waiting);
  await makeMove(technician, waiting, "approve-return", { reason: "It needs the bench." });
  await packAndHandOver(dealer, waiting);
  await makeMove(technician, own, "take");

  // The box of the first return holds the pack of the second.
  const wrongBox = `/bench/${waiting}/receiving`;
  await send(technician, wrongBox, "Record that it came in", {
    scanned: found.shown,
    boxCondition: "sound",
    signs: ["none"],
  });
  await send(technician, wrongBox, "Lay it there");
  await sendOnlyBy(technician, [dealer, manager, finance], wrongBox, "It is settled", {
    outcome: "other-pack",
    how: "The label of the pack, read by two people.",
  });
  await technician.goto(wrongBox);
  await technician.getByRole("link", { name: own }).click();
  await technician.waitForURL(`**/bench/${own}/receiving`);
  await technician.getByText("lies here and was not scanned in under this return").waitFor();
  await sendOnlyBy(technician, [dealer, manager, finance], `/bench/${own}/receiving`, "Record that it came in", {
    scanned: found.shown,
    boxCondition: "sound",
    signs: ["none"],
  });
  await technician.goto(wrongBox);
  expect(await technician.getByText("Another pack that came in its box").count()).toBe(0);

  // Its place in quarantine went along: it is watched, tested and decided under its own return.
  await watchInPlace(technician, own);
  await technician.goto(`/bench/${own}/receiving`);
  expect(await formWith(technician, "Keep this measurement").count(), "measured where it lies no more").toBe(0);
  await makeMove(technician, own, "start-test");
  await testAll(technician, own, "TF", "finding");
  await codeNothingFound(technician, lead, own);
  await proposeAs(technician, own, { remedy: "return-as-is", confirmedFault: "no-fault-found" });
  await showNotices(dealer, own);
  await onlyBy(lead, [technician, manager, officer, dealer], own, "approve");
  await manager.goto(`/bench/${own}`);
  if ((await moveForm(manager, "approve-as-second").count()) > 0)
    await makeMove(manager, own, "approve-as-second", { reason: "Seen." });
  await onlyBy(technician, [dealer, manager, finance], own, "ready-without-work", { packIsSafe: true });
  await packForDealer(lead, own);

  // A set that names it is frozen and held back: it goes back to nobody.
  const sharing = `/reliability/affected?${new URLSearchParams({ by: "revision", group: found.revisionCode, from: found.shown, to: found.shown })}`;
  await sendOnlyBy(manager, [technician, dealer, finance], sharing, "Keep the set in my name", {
    as: "stopped",
    why: "One joining job is looked at; until then none of it goes out.",
  });
  // The dealer sees no sets: it is told at the hand-over.
  await dealer.goto(`/dealer/returns/${own}`);
  const handOver = () => sendForm(moveForm(dealer, "hand-back"), { outgoingSerial: found.shown });
  expect(await handOver()).toMatch(/held back/);
  await manager.goto(`/bench/${own}/remedy`);
  await manager.getByText("You held these packs back").waitFor();
  expect(await formWith(manager, "Let this pack go").count()).toBe(0);
  await sendOnlyBy(officer, [technician, lead, manager, finance], `/bench/${own}/remedy`, "Let this pack go", {
    why: "Its joints were measured one by one under load and are sound.",
  });
  await dealer.goto(`/dealer/returns/${own}`);
  expect(await refusedToOthers(dealer, [otherDealer, manager, officer, finance], handOver)).toBeNull();
  // Whoever held the set back does not let it go; another does.
  await manager.goto("/reliability/affected/sets");
  expect(await manager.locator("option[value=let-go]").count()).toBe(0);
  await sendOnlyBy(officer, [technician, manager, lead], "/reliability/affected/sets", "Record it", {
    step: "let-go",
    why: "Nothing was found in any of them.",
  });
});

async function codeNothingFound(technician: Page, lead: Page, reference: string): Promise<void> {
  await send(technician, `/bench/${reference}/tests`, "Code the fault", {
    customerSaw: "cuts-out-under-load",
    found: "nothing-found",
    part: "none",
    cause: "no-fault",
    howSure: "shown",
  });
  await sendOnlyBy(lead, [technician], `/bench/${reference}/tests`, "Leave it out", {
    why: "Two others of its lot were searched in vain.",
  });
}

test("the old pack is sent in by the dealer after the customer has another", async () => {
  const { dealer, otherDealer, technician, second, lead, manager, finance } = await everybody();
  const pack = packOf("GW", 0);
  const reference = await lodgeFor(second, "D01", pack);
  await makeMove(technician, reference, "take");
  await proposeAs(technician, reference, { remedy: "replace", confirmedFault: "weak-cell" });
  await showNotices(dealer, reference);
  await onlyBy(lead, [technician, manager, dealer], reference, "approve");
  const kept = await makeAnotherReady({ technician, lead }, reference);
  await onlyBy(dealer, [otherDealer, manager, finance], reference, "hand-back", { outgoingSerial: kept });

  const order = { order: "send-in", dueOn: inTwentyDays, why: "We want to open it." };
  await sendOnlyBy(lead, [dealer, manager, finance], `/bench/${reference}/remedy`, "Tell the dealer", order);
  const page = `/dealer/returns/${reference}`;
  await dealer.goto(page);
  expect(await formWith(dealer, "Handed to the carrier").count(), "sent without a class").toBe(0);
  await declareClass(lead, reference, "to-maker", [technician, dealer, finance]);
  await printAndPack(dealer, reference);
  await sendOnlyBy(dealer, [otherDealer, technician, manager], page, "Handed to the carrier");
  await receiveAndWatch(technician, reference, pack.shown);
  await technician.goto(`/bench/${reference}/receiving`);
  await technician.getByText("let go by Jorun Halfvarden").waitFor();
});

test("another maker's part is the cause: two people send the customer on, and the pack goes back", async () => {
  const { dealer, otherDealer, technician, second, lead, manager, finance } = await everybody();
  const pack = packOf("TF", 4);
  const reference = await lodgeFor(second, "D01", pack);
  await makeMove(technician, reference, "take");
  await proposeAs(technician, reference, { remedy: "redirect", confirmedFault: "outside-cause" });
  await showNotices(dealer, reference);
  await onlyBy(lead, [technician, second, manager, dealer], reference, "approve");
  await onlyBy(manager, [technician, lead, dealer], reference, "approve-as-second", { reason: "Seen." });
  await onlyBy(technician, [dealer, manager, finance], reference, "ready-without-work", { packIsSafe: true });
  await onlyBy(dealer, [otherDealer, manager, finance], reference, "hand-back", { outgoingSerial: pack.shown });
  expect(await stamps(dealer)).toContain("Handed back");
});

test("a pack that may be called in is called in no more once it is set apart, nor with a lowered flag while its incident is open", async () => {
  const { dealer, otherDealer, technician, second, lead, manager, officer } = await everybody();
  const reference = await lodgeFor(second, "D01", packOf("BR", 0));
  await makeMove(technician, reference, "take");
  await declareClass(lead, reference);
  const mayBeCalledIn = async () => {
    await technician.goto(`/bench/${reference}`);
    return (await moveForm(technician, "approve-return").count()) > 0;
  };
  expect(await mayBeCalledIn()).toBe(true);
  const raised = { to: "isolate", reason: "It fell down the stairs of the shop." };
  await sendOnlyBy(dealer, [otherDealer], `/dealer/returns/${reference}`, "Tell the maker now", raised);
  expect(await mayBeCalledIn()).toBe(false);
  const lowered = { to: "caution", reason: "Watched for a day: cold, dry and quiet." };
  await sendOnlyBy(officer, [technician, lead, manager, dealer], `/bench/${reference}`, "Set the flag", lowered);
  // The dealer's word opened an incident too, which holds the pack until the safety officer closes it.
  expect(await mayBeCalledIn()).toBe(false);
});
