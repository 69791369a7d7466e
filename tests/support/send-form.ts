import type { Locator, Page } from "playwright-core";

/** A field's answer: its text or choice, the values ticked of a list, or a file with its bytes. */
export type Answer =
  | string
  | boolean
  | readonly string[]
  | { readonly name: string; readonly mimeType: string; readonly buffer: Buffer };

/**
 * Fills a form by the names of its fields as a person would, sends it with its own button, and waits for the server. Null
 * where it was taken; else the words of the refusal, so that a test can say which sentence it got.
 */
export async function sendForm(
  form: Locator,
  answers: Readonly<Record<string, Answer>> = {},
  button?: string,
): Promise<string | null> {
  const page = form.page();
  await form.first().waitFor({ state: "attached" });
  await unfold(form);
  for (const [name, answer] of Object.entries(answers)) await fill(form, name, answer);
  const submit = form.locator(button === undefined ? "button[type=submit]" : `button:text-is("${button}")`);
  const handle = await form.elementHandle();
  const [response] = await Promise.all([
    page.waitForResponse(
      (one) => one.request().method() === "POST" && new URL(one.url()).origin === new URL(page.url()).origin,
    ),
    submit.first().click(),
  ]);
  if (response.status() >= 400) return `The server answered ${response.status()}.`;
  // A plain form leads to another document; any other is answered in place once none of its buttons waits any more.
  if (response.request().isNavigationRequest()) await page.waitForLoadState("load");
  else {
    await page.waitForFunction(
      (sent) => sent === null || !sent.isConnected || sent.querySelector('[aria-busy="true"]') === null,
      handle,
    );
  }
  return refusalIn(page, form);
}

async function refusalIn(page: Page, form: Locator): Promise<string | null> {
  await page.waitForLoadState("load");
  if ((await form.count()) === 0) return null;
  const refusal = form.locator('[role="alert"], .text-warn.border-warn');
  const words = await refusal.allInnerTexts();
  return words.length === 0 ? null : words.join(" ").replaceAll(/\s+/g, " ");
}

/** Opens every fold the form lies in: what is one tap away is still the same form. */
export async function unfold(form: Locator): Promise<void> {
  await form.first().evaluate((node) => {
    for (let at: Element | null = node; at !== null; at = at.parentElement) {
      if (at instanceof HTMLDetailsElement) at.open = true;
    }
  });
}

async function fill(form: Locator, name: string, answer: Answer): Promise<void> {
  const field = form.locator(`[name="${name}"]`);
  if (typeof answer === "boolean") return field.first().setChecked(answer);
  if (Array.isArray(answer)) {
    for (const value of answer) await form.locator(`[name="${name}"][value="${value}"]`).check();
    return;
  }
  if (typeof answer !== "string") return field.setInputFiles([answer as never]);
  const kind = await field
    .first()
    .evaluate((node) => `${node.tagName} ${node.getAttribute("type") ?? ""}`.toLowerCase());
  if (kind.startsWith("select")) await field.selectOption(answer);
  else if (kind.endsWith("radio") || kind.endsWith("checkbox"))
    await form.locator(`[name="${name}"][value="${answer}"]`).check();
  else await field.fill(answer);
}

/** The form of a move of the case, wherever on the page it stands. */
export const moveForm = (page: Page, move: string) =>
  page.locator("form", { has: page.locator(`input[name="name"][value="${move}"]`) });

/** The form whose button carries these words, folded away or not. */
export const formWith = (within: Page | Locator, button: string) => {
  // What a form has is looked for from the form on, so it is named from the page.
  const page = "page" in within ? within.page() : within;
  return within.locator("form").filter({ has: page.locator(`button:text-is("${button}")`) });
};
