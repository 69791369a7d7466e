import type { Page } from "playwright-core";
import { expect, test } from "vitest";
import { groupSerial, readSerial } from "@/lib/packs/serial";
import { plusDays } from "@/lib/warranty/calendar";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { packsToTry } from "@/seed/packs-to-try";
import { people, phone, withBrowser } from "@/tests/support/browser";
import { demoStory, noticedOn, toldOn } from "@/tests/support/demo-story";
import { lodgeFor, makeMove, proposeAs, proveSale, showNotices } from "@/tests/support/life-by-hand";
import { refusedAtField } from "@/tests/support/refused-at-field";
import { packWithRivalProofs } from "@/tests/support/rival-proofs";
import { formWith, moveForm, sendForm } from "@/tests/support/send-form";

// What somebody types that cannot be so: each is refused in words at the very field, in the browser, and nothing typed is lost.

const browser = withBrowser();
const packs = packsToTry(demoStory, "D06").filter(({ soldOn }) => soldOn <= noticedOn);
const packOf = (position: number) => {
  const pack = packs.at(position);
  if (pack === undefined) throw new Error("the scenario holds no packs for this dealer");
  return pack;
};
const shown = (serial: string) => {
  const reading = readSerial(serial);
  if (reading.kind !== "serial") throw new Error(`${serial} is no serial`);
  return groupSerial(reading.serial);
};

test("a fault noticed after it was told, and a sale after it, are refused at their days", async () => {
  const technician = await browser.openAs(people.service);
  await technician.goto("/bench/new");
  const form = formWith(technician, "Keep it");
  const lodged = {
    dealerCode: "D06",
    serial: packOf(3).shown,
    toldOn: noticedOn,
    noticedOn: toldOn,
    soldOnStated: packOf(3).soldOn,
    soldOnEvidence: "delivery-receipt",
    concern: "Geht unter Last aus.",
    symptom: "cuts-out-under-load",
    noFileReason: "nothing-to-read-it-with",
    how: "send",
  };
  const told = { dangerSigns: ["none-of-these"], ...lodged };
  await refusedAtField(form, { answers: told, at: "noticedOn", sentence: /cannot be noticed after you were told/ });
  await refusedAtField(form, {
    answers: { ...told, toldOn, noticedOn, soldOnStated: plusDays(demoStory.asOf, 0) },
    at: "soldOnStated",
    sentence: /sale cannot be after the customer told you/,
  });
});

test("a day for the answer that is over is refused at the day, and the question stays", async () => {
  const technician = await browser.openAs(people.service);
  const reference = await lodgeFor(technician, "D06", packOf(4));
  await makeMove(technician, reference, "take");
  await technician.goto(`/bench/${reference}`);
  const ask = moveForm(technician, "ask");
  const reason = "Which charger was used, and for how long?";
  await refusedAtField(ask, {
    answers: { reason, dueOn: "2026-01-31" },
    at: "dueOn",
    sentence: /This day is over already/,
  });
  await refusedAtField(ask, { answers: { reason, dueOn: "" }, at: "dueOn", sentence: /Say by which day/ });
  const dueOn = plusDays(civilDateAt(new Date(), "UTC"), 5);
  await refusedAtField(ask, { answers: { reason: "", dueOn }, at: "reason", sentence: /Write the reason/ });
  const merge = moveForm(technician, "merge");
  await refusedAtField(merge, {
    answers: { reason: "Lodged twice.", duplicateOf: reference },
    at: "duplicateOf",
    sentence: /Name the other return/,
  });
});

test("a decision without what it rests on is refused at what is missing, and everything written stays", async () => {
  const technician = await browser.openAs(people.service);
  const reference = await lodgeFor(technician, "D06", packOf(8));
  await makeMove(technician, reference, "take");
  await technician.goto(`/bench/${reference}`);
  const desk = formWith(technician, "Propose this decision");
  const reason = "Nothing that was told points to the pack.";
  await refusedAtField(desk, {
    answers: { remedy: "return-as-is", confirmedFault: "no-fault-found", reason },
    at: "confirmedFault",
    sentence: /Nobody says “no fault found” before/,
  });
  const refusal = {
    remedy: "refuse",
    confirmedFault: "unknown",
    refusalTerm: "Term 4: use outside the instructions.",
    refusalEvidence: "What the dealer told on the telephone.",
    refusalAlternatives: "A weak cell: not looked for.",
    reason,
  };
  await refusedAtField(desk, { answers: refusal, at: "refusedUnseenBecause", sentence: /was never here/ });
});

test("a class that nobody may declare is refused at the class", async () => {
  const technician = await browser.openAs(people.service);
  const lead = await browser.openAs(people.lead);
  const reference = await lodgeFor(technician, "D06", packOf(9));
  await makeMove(technician, reference, "take");
  await lead.goto(`/bench/${reference}/transport`);
  const form = formWith(lead, "Declare this class in my name");
  const answers = { transportClass: "not-damaged", reason: "It looks good to the dealer." };
  await sendForm(form, answers);
  const list = lead.getByRole("group", { name: "Class", exact: true });
  expect(await list.getAttribute("aria-invalid")).toBe("true");
  expect(await form.locator("[name=reason]").inputValue()).toBe(answers.reason);
  expect(await form.locator("[name=transportClass][value=not-damaged]").isChecked()).toBe(true);
});

test("a danger told of a pack nobody knows, and one known tomorrow, are refused at what was written", async () => {
  const dealer = await browser.openAs(people.otherDealer, phone);
  await dealer.goto("/danger");
  const form = formWith(dealer, "Tell the safety officer");
  const told = { about: "QP-0000-0000", flags: ["smoke"], note: "It smoked when it was put down." };
  await refusedAtField(form, { answers: told, at: "about", sentence: /./ });
  const tomorrow = `${plusDays(civilDateAt(new Date(), "UTC"), 2)}T08:00`;
  await refusedAtField(form, {
    answers: { ...told, about: packOf(9).shown, knownAt: tomorrow },
    at: "knownAt",
    sentence: /in the future/,
  });
});

test("who writes of smoke and ticks no sign is asked at the words, and nothing is ticked for them or held up", async () => {
  const technician = await browser.openAs(people.service);
  await technician.goto("/danger");
  const form = formWith(technician, "Tell the safety officer");
  const asked = form.getByText("You wrote of smoke and ticked no sign");
  await form.locator("[name=note]").fill("Es kam Rauch aus dem Akku.");
  await asked.waitFor();
  expect(await form.locator("[name=flags]:checked").count()).toBe(0);
  await form.locator("[name=flags][value=smoke]").check();
  await asked.waitFor({ state: "detached" });
  await form.locator("[name=flags][value=smoke]").uncheck();
  await asked.waitFor();
  // It is told as it was written all the same.
  const told = { isUnnamed: ["yes"], note: "Es kam Rauch aus dem Akku, sagt jemand.", country: "DE" };
  expect(await sendForm(form, told)).toBeNull();
  await technician.getByText("Tell it once more then, with the sign.").waitFor();
});

test("smoke in the words of a complaint is shown to whoever reads it, and under a flag the way to an incident is named", async () => {
  const technician = await browser.openAs(people.service);
  await lodgeFor(technician, "D06", packOf(10), ["none-of-these"], "Beim Laden kam Rauch heraus.");
  await technician.getByText("The words speak of smoke, and no such sign was ticked").waitFor();
  const flag = formWith(technician, "Set the flag");
  await technician.locator("summary", { hasText: "Raise or lower the safety flag" }).click();
  await flag.locator("[name=reason]").fill("Rauch, sagt der Kunde.");
  await flag.getByText("no clock of a report to an authority hangs on it").waitFor();
});

test("a dealer whom nobody knows is refused at the dealer where a danger of an unnamed pack is told", async () => {
  const technician = await browser.openAs(people.service);
  await technician.goto("/danger");
  const form = formWith(technician, "Tell the safety officer");
  // The list is closed; whoever sends another code past it is refused all the same.
  await form.locator("select[name=dealer]").evaluate((list) => list.append(new Option("Nowhere", "NOWHERE-9")));
  const told = { isUnnamed: ["yes"], dealer: "NOWHERE-9", flags: ["smoke"], note: "It smoked in the yard." };
  await refusedAtField(form, { answers: told, at: "dealer", sentence: /No dealer has this code/ });
});

test("between two proofs the choice without a reason is refused at the reason, and with one the cover is answered anew", async () => {
  const technician = await browser.openAs(people.service);
  const lead = await browser.openAs(people.lead);
  const dealer = await browser.openAs(people.otherDealer);
  const { pack, firstOn, laterOn } = packWithRivalProofs("D06");
  const earlier = await lodgeFor(technician, "D06", pack);
  await proveSale(dealer, technician, earlier, firstOn);
  await dealer.goto(`/dealer/returns/${earlier}`);
  await makeMove(dealer, earlier, "withdraw", { reason: "The customer keeps it." });
  const reference = await lodgeFor(technician, "D06", pack);
  await proveSale(dealer, technician, reference, laterOn);
  await technician.goto(`/bench/${reference}`);
  const choice = (page: Page) => formWith(page, "This one counts: give the answer anew in my name");
  expect(await choice(technician).count()).toBe(0);
  await lead.goto(`/bench/${reference}`);
  await refusedAtField(choice(lead), {
    answers: { chosenOn: laterOn, why: "" },
    at: "why",
    sentence: /Say why this proof/,
  });
  await refusedAtField(choice(lead), {
    answers: { chosenOn: "", why: "The first receipt was of another pack." },
    at: "chosenOn",
    sentence: /Choose the proof that counts/,
  });
  const chosen = { chosenOn: laterOn, why: "The first receipt was of another pack." };
  expect(await sendForm(choice(lead), chosen)).toBeNull();
  await lead.goto(`/bench/${reference}`);
  expect(await choice(lead).count()).toBe(0);
  const before = lead.locator("#proof details", { hasText: "answers before" });
  await before.locator("summary").click();
  await before.getByText(/Replaced when .* chose the proof/).waitFor();
});

test("a dealer in no zone, and in one nobody knows, is refused at the zone", async () => {
  const administrator = await browser.openAs(people.administrator, phone);
  await administrator.goto("/accounts");
  const form = formWith(administrator, "Add the dealer");
  const dealer = { code: "NOWHERE-1", name: "Nowhere Wheels", town: "Nirgend", country: "DE", joinedOn: "2026-01-05" };
  await refusedAtField(form, { answers: { ...dealer, timeZone: "" }, at: "timeZone", sentence: /time zone/i });
  // The list is closed; whoever sends another name past it is refused all the same.
  await form
    .locator("select[name=timeZone]")
    .evaluate((list) => list.append(new Option("Atlantis", "Europe/Atlantis")));
  expect(await form.locator("select[name=timeZone]").inputValue()).toBe("");
  await form.locator("select[name=timeZone]").selectOption("Europe/Atlantis");
  await form.locator("button[type=submit]").click();
  await form.locator('[name=timeZone][aria-invalid="true"]').waitFor();
  expect(await form.locator("[name=code]").inputValue()).toBe("NOWHERE-1");
});

test("a pack in service, an unknown one and one the chain would lead back to are refused at the serial of the replacement", async () => {
  const technician = await browser.openAs(people.service);
  const second = await browser.openAs(people.secondTechnician);
  const lead = await browser.openAs(people.lead);
  const dealer = await browser.openAs(people.dealer);
  // A pack that replaced another: where that one went in its place again, the chain would never end.
  const dealerOf = (returnKey: string) => demoStory.returns.find(({ key }) => key === returnKey)?.dealerCode ?? "";
  const chain = demoStory.replacements.find(
    ({ newSerial, returnKey }) =>
      dealerOf(returnKey) === "D01" && !demoStory.returns.some(({ serial }) => serial === newSerial),
  );
  if (chain === undefined) throw new Error("the scenario holds no pack that replaced another and never came back");
  const reference = await lodgeFor(second, "D01", { ...packOf(5), shown: shown(chain.newSerial) });
  await makeMove(technician, reference, "take");
  await proposeAs(technician, reference, { remedy: "replace", confirmedFault: "weak-cell" });
  await showNotices(dealer, reference);
  await makeMove(lead, reference, "approve");
  await technician.goto(`/bench/${reference}/remedy`);
  const keep = formWith(technician, "Keep this pack");
  const refusals: [string, RegExp][] = [
    [packOf(6).shown, /sold/],
    [shown(chain.newSerial), /./],
    [shown(chain.oldSerial), /would lead back to it/],
    ["QP-0000-0000", /./],
    ["", /./],
  ];
  for (const [serial, sentence] of refusals)
    await refusedAtField(keep, { answers: { serial }, at: "serial", sentence });
  // The same where the pack is named with the start of the work.
  await technician.goto(`/bench/${reference}`);
  await refusedAtField(moveForm(technician, "start-work"), {
    answers: { reservedSerial: packOf(6).shown },
    at: "reservedSerial",
    sentence: /sold/,
  });
});

test("a claim in a currency without a rate is refused at the currency", async () => {
  const technician = await browser.openAs(people.service);
  const dealer = await browser.openAs(people.otherDealer, phone);
  const reference = await lodgeFor(technician, "D06", packOf(7));
  await dealer.goto("/dealer/statement");
  const form = formWith(dealer, "Claim");
  const claim = { reference, kind: "labour", operation: "take-in", minutes: "10" };
  await refusedAtField(form, {
    answers: { ...claim, currency: "JPY" },
    at: "currency",
    sentence: /No rate for labour/,
  });
  await refusedAtField(form, { answers: { ...claim, currency: "pounds" }, at: "currency", sentence: /./ });
});
