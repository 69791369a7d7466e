import { expect, test } from "vitest";
import { dangerOf } from "@/lib/returns/danger-signs";
import { dealerScripts } from "@/lib/transport/dealer-script";
import { firstTransportRules } from "@/tests/support/first-transport-rules";

const scripts = dealerScripts(firstTransportRules());

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
