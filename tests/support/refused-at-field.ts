import type { Locator } from "playwright-core";
import { expect } from "vitest";
import { type Answer, sendForm } from "./send-form";

interface Refused {
  readonly answers: Readonly<Record<string, Answer>>;
  /** Name of the field the refusal stands at. */
  readonly at: string;
  readonly sentence: RegExp;
  /** The form's own button, where it has more than one. */
  readonly button?: string;
}

/**
 * Sends a form that has to be refused, and holds the page to it: the field is marked as wrong, its sentence is read out with it,
 * the summary says the same, and whatever was typed is still there.
 */
export async function refusedAtField(form: Locator, { answers, at, sentence, button }: Refused): Promise<void> {
  const words = await sendForm(form, answers, button);
  expect(words, `the refusal at ${at}`).toMatch(sentence);
  const field = form.locator(`[name="${at}"]`).first();
  expect(await field.getAttribute("aria-invalid"), `${at} is marked`).toBe("true");
  const notes = ((await field.getAttribute("aria-describedby")) ?? "").split(" ");
  const id = notes.find((note) => note.endsWith("-error")) ?? "no error";
  expect(await form.page().locator(`[id="${id}"]`).textContent(), `the sentence at ${at}`).toMatch(sentence);
  expect(await form.locator("[aria-invalid=true]").count(), `no other field than ${at} is marked`).toBe(1);
  for (const [name, answer] of Object.entries(answers)) {
    if (typeof answer !== "string") continue;
    expect(await keptAnswer(form, name), `${name} is kept`).toBe(answer);
  }
}

/** Of a list of choices the chosen one. */
async function keptAnswer(form: Locator, name: string): Promise<string> {
  const control = form.locator(`[name="${name}"]`);
  const isChoice = (await control.first().getAttribute("type")) === "radio";
  return isChoice ? form.locator(`[name="${name}"]:checked`).inputValue() : control.first().inputValue();
}
