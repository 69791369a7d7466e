import type { Page } from "playwright-core";
import { beforeAll, expect, test } from "vitest";
import { packsToTry } from "@/seed/packs-to-try";
import { lookAt, people, withBrowser } from "@/tests/support/browser";
import { demoStory, noticedOn } from "@/tests/support/demo-story";
import { declareClass, lodgeFor, makeMove } from "@/tests/support/life-by-hand";
import { inBlackAndWhite, printsOn } from "@/tests/support/printed";
import { printsIn } from "@/tests/support/prints-in";
import { readQrCodes } from "@/tests/support/read-qr";
import { formWith, sendForm } from "@/tests/support/send-form";

const browser = withBrowser();
const sheets = [
  ["label", "100x150"],
  ["label", "a4"],
  ["label", "letter"],
  ["traveller", "a4"],
  ["traveller", "letter"],
  ["traveller", "100x150"],
  ["packing-sheet", "a4"],
  ["packing-sheet", "letter"],
  ["used-battery-statement", "a4"],
  ["used-battery-statement", "letter"],
] as const;

let page: Page;
/** Open returns of the demo: one that may be sent, one that has no class; and one that is decided. */
const returns = { sendable: "", unclassed: "", decided: "" };

beforeAll(async () => {
  page = await browser.openAs(people.lead);
  const queue = async (show: string) =>
    (await (await page.request.get(`/bench?show=${show}`)).text()).match(/R-[0-9]{2}-[0-9]{5}-[0-9A-Z]/g) ?? [];
  for (const reference of new Set(await queue("open"))) {
    if (returns.sendable !== "" && returns.unclassed !== "") break;
    const label = await (await page.request.get(`/print/${reference}/label`)).text();
    if (label.includes("DO NOT FLY")) returns.sendable = reference;
    else if (label.includes("No transport class has been declared")) returns.unclassed = reference;
  }
  for (const reference of new Set(await queue("decided"))) {
    const letter = await (await page.request.get(`/print/${reference}/decision-letter`)).text();
    if (!letter.includes("Nothing is printed")) {
      returns.decided = reference;
      break;
    }
  }
  expect(Object.values(returns)).not.toContain("");
});

/** What goes with the load in papers is the second page of a packing sheet. */
const pagesOf = (sheet: string) => (sheet === "packing-sheet" ? 2 : 1);

test.each(sheets)(
  "the %s on %s fits its paper, and in black and white its code opens the return",
  async (sheet, paper) => {
    await page.goto(`/print/${returns.sendable}/${sheet}?paper=${paper}`);
    await printsOn(page, paper, `${sheet} on ${paper}`, pagesOf(sheet));
    const codes = await readQrCodes(await inBlackAndWhite(page, `${sheet} on ${paper}`));
    const address = new URL(`/bench/${returns.sendable}`, page.url()).href;
    expect(codes).toEqual(sheet === "used-battery-statement" ? [] : [address]);
    // One paper of each is looked at more closely: the words are the same on all.
    if (sheets.find(([one]) => one === sheet)?.[1] === paper) await lookAt(page, `print-${sheet}-${paper}`);
  },
);

// The returns of the demo that may be sent come from abroad to works in Germany: their ways lie under two sets of rules.
test.each(["label", "packing-sheet"])(
  "the %s says what nobody has compared, that two sets of rules hold and who decides, and whom to call",
  async (sheet) => {
    for (const paper of sheet === "label" ? ["100x150", "a4", "letter"] : ["a4", "letter"]) {
      await page.goto(`/print/${returns.sendable}/${sheet}?paper=${paper}`);
      const said = await page.locator("main").textContent();
      expect(said, paper).toMatch(/\(letters at least 12 mm\) \[from memory: verify/);
      expect(said, paper).toMatch(
        /UN 3480 \[from memory: verify|UN 3480 \(letters at least 12 mm\) \[from memory: verify/,
      );
      expect(said, paper).toMatch(/It leaves under “.+” and arrives under “Road and rail \(ADR\/RID\), sea \(IMDG\)”/);
      expect(said, paper).toMatch(/A person qualified in dangerous goods decides for every leg/);
      expect(said, paper).toMatch(/Emergency telephone for this load: \+49 30 23125 112/);
    }
  },
);

test("the packing sheet names the transport document, what holds besides, and what the rules at the other end ask for", async () => {
  await page.goto(`/print/${returns.sendable}/packing-sheet?paper=100x150`);
  // A parcel label has no room for both: the sheet is printed whole.
  expect(await page.getByRole("link", { name: "100 x 150 mm" }).count()).toBe(0);
  const said = await page.locator("main").textContent();
  expect(said).toMatch(/In the transport document.+UN 3480, LITHIUM ION BATTERIES, 9.+?\[from memory: verify/s);
  expect(said).toMatch(/Besides.+What the rules at the other end of the way ask for.+P908/s);
  expect(said).toMatch(/A person qualified in dangerous goods has decided for every leg/);
});

test("without a declared class nothing but the traveller is printed", async () => {
  for (const sheet of ["label", "packing-sheet", "used-battery-statement"]) {
    await page.goto(`/print/${returns.unclassed}/${sheet}`);
    expect(await page.getByRole("heading", { name: "Nothing is printed" }).isVisible()).toBe(true);
    expect(await page.getByText("DO NOT FLY").count()).toBe(0);
  }
});

test.each([
  ["finding-letter", "en", "a4", "Place, date, signature"],
  ["finding-letter", "de", "letter", "Ort, Datum, Unterschrift"],
  ["finding-letter", "es", "a4", "Lugar, fecha y firma"],
  ["decision-letter", "de", "a4", "Ort, Datum, Unterschrift"],
  ["decision-letter", "es", "letter", "Lugar, fecha y firma"],
] as const)(
  "the %s in %s is one page of %s, black on white, with a line to sign on",
  async (letter, lang, paper, signHere) => {
    await page.goto(`/print/${returns.decided}/${letter}?lang=${lang}&paper=${paper}`);
    expect(await page.locator("main").getAttribute("lang")).toBe(lang);
    await page.getByText(signHere).waitFor();
    await printsOn(page, paper, `${letter} in ${lang}`);
    await inBlackAndWhite(page, `${letter} in ${lang}`);
    await lookAt(page, `print-${letter}-${lang}`);
  },
);

test("a label is there for the dealer it is of, and for no other", async () => {
  await page.goto(`/print/${returns.sendable}/label`);
  const from = (await page.getByText(/^From /).textContent()) ?? "";
  for (const [email, name] of [
    [people.dealer, "Quellmoor Zweirad"],
    [people.otherDealer, "Wattle Row Mopeds"],
  ] as const) {
    const own = await browser.openAs(email);
    const answer = await own.request.get(`/print/${returns.sendable}/label`);
    expect(answer.status(), `${name} asks for a label ${from}`).toBe(from.includes(name) ? 200 : 404);
  }
});

test("the sheets of a dealer in Spain say it in Spanish as well, and fit their papers", async () => {
  const administrator = await browser.openAs(people.administrator);
  const technician = await browser.openAs(people.service);
  await administrator.goto("/accounts");
  const dealer = { code: "ES-PRINT", name: "Ruedas del Ejemplo", town: "Villaejemplo", country: "ES" };
  expect(
    await sendForm(formWith(administrator, "Add the dealer"), {
      ...dealer,
      timeZone: "Europe/Madrid",
      joinedOn: "2026-01-05",
    }),
  ).toBeNull();
  const pack = packsToTry(demoStory, "D06").findLast(({ soldOn }) => soldOn <= noticedOn);
  if (pack === undefined) throw new Error("the scenario holds no pack to return");
  const reference = await lodgeFor(technician, dealer.code, pack);
  await makeMove(technician, reference, "take");
  await declareClass(page, reference, "to-maker", []);
  await makeMove(technician, reference, "approve-return", { reason: "It needs the bench." });
  await printsIn("es", page, reference);
});
