import { expect, test } from "vitest";
import { noticeLanguages } from "@/lib/notices/notice-kinds";
import {
  askOfComplaint,
  askOfFlag,
  askWhetherTicked,
  signLists,
  signsWrittenOf,
  writtenSigns,
} from "@/lib/safety/signs-in-words";

const sentences = {
  en: { smoke: "It was SMOKING under the seat.", fire: "Then it caught fire." },
  de: { smoke: "Plötzlich Rauchentwicklung am Stecker.", fire: "Der Akku hat gebrannt." },
  es: { smoke: "Salió humo de la caja.", fire: "La batería ardió en el garaje." },
} as const satisfies Readonly<Record<(typeof noticeLanguages)[number], Readonly<Record<"smoke" | "fire", string>>>>;

test.each(noticeLanguages)("smoke and fire are known in the language %s, with accents and without", (language) => {
  for (const sign of writtenSigns) {
    const text = sentences[language][sign];
    expect(signsWrittenOf(text), text).toEqual([sign]);
    expect(signsWrittenOf(text.normalize("NFD").replaceAll(/\p{M}/gu, "")), text).toEqual([sign]);
  }
});

test.each([
  "A brand new pack, bought in the firewood shop's street.",
  "Man braucht zwei Stunden, es brummt.",
  "Hay humedad dentro, el cliente llama mañana.",
  "",
])("words that only look like them ask nothing: %s", (text) => {
  expect(signsWrittenOf(text)).toEqual([]);
});

test("who ticked the sign is asked nothing, who ticked none or another one is asked by the name on the box", () => {
  const text = "Smoke, then flames.";
  expect(askWhetherTicked(text, ["fire", "smoke"], "incident")).toBeNull();
  expect(askWhetherTicked("It smoked.", [], "incident")).toMatch(
    /^You wrote of smoke and ticked no sign\. .*“Smoke or vapour”/,
  );
  for (const [words, ticked] of [
    ["It smoked.", "swelling"],
    [text, "fire"],
  ] as const)
    expect(askWhetherTicked(words, [ticked], "incident")).toMatch(/^You wrote of smoke and ticked other signs alone\./);
  expect(askWhetherTicked(text, ["none-of-these"], "return")).toMatch(
    /^You wrote of fire and smoke and ticked no sign/,
  );
  expect(
    askWhetherTicked(
      text,
      Object.values(signLists.return).map(({ value }) => value),
      "return",
    ),
  ).toBeNull();
});

test("a denial is asked about too, because no program reads it", () => {
  expect(askWhetherTicked("No smoke at all.", ["none-of-these"], "return")).toMatch(/If it did not, leave it/);
});

test("under a flag, which has no boxes, whoever writes of it is told that no clock hangs on a flag", () => {
  expect(askOfFlag("Rauch beim Auspacken.")).toMatch(/^You wrote of smoke\. .* raise an incident too\.$/);
  expect(askOfFlag("Swollen on one side.")).toBeNull();
});

test("whoever reads a complaint is told of smoke that no sign beside it says", () => {
  const words = "Cuando la cargaba salió humo.";
  expect(askOfComplaint(words, [])).toMatch(/^The words speak of smoke, and no such sign was ticked: ask the dealer\./);
  expect(askOfComplaint(words, [signLists.return.smoke.value])).toBeNull();
  expect(askOfComplaint("Cuts out under load.", [])).toBeNull();
});
