import { expect, test } from "vitest";
import { dangerOf } from "@/lib/returns/danger-signs";
import { dealerScripts } from "@/lib/transport/dealer-script";
import { LEGS_ARE_DECIDED, OTHER_END_NOT_KNOWN, TWO_SETS_OF_RULES, WHO_DECIDES } from "@/lib/transport/route";
import { notChecked, sayAlso, translationsToVerify } from "@/lib/transport/said-also";
import { usedBatteryStatement } from "@/lib/transport/used-battery-statement";
import { firstTransportRules } from "@/tests/support/first-transport-rules";

const scripts = dealerScripts(firstTransportRules(), "en");

test("every script forbids charging, opening and sending, and defers to the local emergency services", () => {
  for (const answers of [["none-of-these"], ["swollen"], ["smoke-or-smell"]] as const) {
    const script = scripts[dangerOf(answers).kind];
    const donts = script.donts.join(" ");
    for (const forbidden of [/not charge/, /not open/, /post, parcel or air/]) expect(donts).toMatch(forbidden);
    expect(script.does.join(" ")).toMatch(/local emergency services and rules/);
  }
});

test("with something going on the first thing told is to get people away, and nobody is told to carry the pack", () => {
  const script = scripts[dangerOf(["hot"]).kind];
  expect(script.does[0]).toMatch(/everyone away/);
  expect(script.does.join(" ")).not.toMatch(/bring|carry|move it/i);
  expect(script.donts.join(" ")).toMatch(/not carry/);
});

test("every caution and every point of the packing checklist of the first rules is said in German and Spanish as well", () => {
  const rules = firstTransportRules();
  for (const language of ["de", "es"] as const) {
    for (const { headline, does, donts, also } of Object.values(dealerScripts(rules, language)))
      for (const english of [headline, ...does, ...donts, "Do", "Do not", notChecked.beside])
        expect(also[english], english).toBeTruthy();
    expect(sayAlso(language, notChecked.alone)).toBeTruthy();
    for (const { text } of rules.checklist) expect(sayAlso(language, text), text).toBeTruthy();
    for (const sheet of [
      "In the transport document",
      "Besides",
      "Emergency telephone for this load:",
      "Call the local emergency number first.",
      TWO_SETS_OF_RULES,
      OTHER_END_NOT_KNOWN,
      WHO_DECIDES,
      LEGS_ARE_DECIDED,
    ])
      expect(sayAlso(language, sheet), sheet).toBeTruthy();
    const statement = usedBatteryStatement("DE");
    const said = [statement.title, ...[...statement.statements, ...statement.enclosures].map(({ text }) => text)];
    for (const english of said) expect(sayAlso(language, english), english).toBeTruthy();
    // A sentence that the adviser changed is said in English alone, never as it was before.
    expect(sayAlso(language, "Do not open, pierce or press it at all.")).toBeNull();
  }
  expect(sayAlso("en", "Do not open, pierce or press it.")).toBeNull();
  expect(scripts.none.also).toEqual({});
});

test("each translation waits for somebody who knows the language and the rules", () => {
  const waiting = translationsToVerify();
  expect(waiting.filter(({ sentence }) => sentence.startsWith("de: "))).toHaveLength(waiting.length / 2);
  for (const { mark } of waiting) expect(mark).toMatch(/verify/);
});
