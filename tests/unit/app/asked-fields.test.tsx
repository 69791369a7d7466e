import type { ReactNode } from "react";
import { renderToStaticMarkup } from "react-dom/server";
import { expect, test } from "vitest";
import { answerState } from "@/app/_components/answer-state";
import { AskedChoices, AskedLong, AskedSelect, AskedText } from "@/app/_components/asked-fields";
import { RefusedFields } from "@/app/_components/refused-fields";

const choices = [{ value: "a", label: "One" }];
const fields: Readonly<Record<string, ReactNode>> = {
  place: <AskedSelect name="place" id="q-place" label="Quarantine place" />,
  surfaceC: <AskedText name="surfaceC" label="Surface" />,
  because: <AskedLong name="because" id="found-1" label="Who took it" />,
  transportClass: <AskedChoices name="transportClass" id="class" type="radio" legend="Class" choices={choices} />,
};

test("what the server says of a field stands at that field alone, marked and read out with it", () => {
  for (const [refused, asked] of Object.entries(fields)) {
    const answer = answerState({ ok: false, sentence: "Not so.", reason: "why" }, "Done.", { why: refused });
    const value = answer.kind === "refused" ? (answer.fields ?? {}) : {};
    const page = renderToStaticMarkup(<RefusedFields value={value}>{asked}</RefusedFields>);
    expect(page, refused).toMatch(/aria-invalid="true"/);
    const [, described = ""] = /aria-describedby="([^"]*-error)"/.exec(page) ?? [];
    expect(page, refused).toContain(`id="${described}"`);
    expect(page, refused).toContain("Not so.");
    for (const other of Object.keys(fields).filter((name) => name !== refused)) {
      const beside = renderToStaticMarkup(<RefusedFields value={value}>{fields[other]}</RefusedFields>);
      expect(beside, `${other} beside ${refused}`).not.toContain('aria-invalid="true"');
    }
  }
});

test("a reason that no other answer would change stands at no field, and one that names its field there", () => {
  const whole = answerState({ ok: false, sentence: "Look again.", reason: "someone-changed-this" }, "Done.");
  expect(whole).toEqual({ kind: "refused", sentences: ["Look again."] });
  const named = answerState({ ok: false, sentence: "Not in the future.", field: "knownAt" }, "Done.");
  expect(named).toMatchObject({ fields: { knownAt: "Not in the future." } });
});
