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

const all = ["keep-away", "set-apart", "none"] as const;
const checklist = firstTransportRules()
  .checklist.map(({ text }) => text)
  .join(" ");

// The seven points of what a dealer has to be told before a pack travels (common practice, from memory: verify), each where it is said.
const points: readonly (readonly [string, readonly (readonly [keyof typeof scripts, "does" | "donts", RegExp])[]])[] = [
  [
    "1: stop; do not charge, ride, discharge, wake up, open or puncture it",
    all.flatMap((kind) => [
      [kind, "donts", /not charge, ride, discharge or try to wake it up/] as const,
      [kind, "donts", /not open, pierce or press/] as const,
    ]),
  ],
  [
    "2: after any yes outside, away from what burns and from ways out; not carried while hot; help is called",
    [
      ["set-apart", "does", /outside.*away from buildings, ways out and anything that burns/],
      ["set-apart", "does", /call the emergency number/],
      ["keep-away", "does", /^.*Call the emergency number and say it is a large lithium battery/],
      ["keep-away", "does", /Keep a way out free/],
      ["keep-away", "donts", /not carry or touch it while it is hot/],
    ],
  ],
  [
    "3: no post, parcel or air, and not packed until told how",
    all.map(
      (kind) =>
        [kind, "donts", /not send it by post, parcel or air, and do not pack it, until you are told how/] as const,
    ),
  ],
  [
    "4: terminals covered; label, display, case and connector photographed, where nothing forbids to touch it",
    [
      ["none", "does", /Cover the contacts/],
      ["none", "does", /Photograph the label, the display, the case and the connector/],
    ],
  ],
  ["5: kept at the charge it has", [["none", "does", /Keep it at the charge it has/]]],
  [
    "7: if it changes, step back and call",
    (["set-apart", "none"] as const).map(
      (kind) =>
        [
          kind,
          "does",
          /If it gets warm, swells, smells or hisses: step back,? (?:and )?call the emergency number/,
        ] as const,
    ),
  ],
];

test.each(points)("point %s", (_, said) => {
  for (const [kind, list, words] of said) expect(scripts[kind][list].join(" "), kind).toMatch(words);
});

test("point 6: the packaging and marks that are named, one pack in each, signed by somebody trained", () => {
  for (const words of [
    /The packaging is the one named on this sheet/,
    /The marks named on this sheet stand on the package/,
    /One pack, one package, one label/,
    /trained for dangerous goods, and signs here/,
  ])
    expect(checklist).toMatch(words);
});

// Point 2 as it is usually said has the emergency line called after any yes. Here emergency services are called at once for what is going
// on; for what is still (swollen, leaking, fallen) the pack goes outside, is watched, and they are called once it changes, while the
// program tells the maker's safety officer at once. Whether that is enough is the adviser's to say: the words are rows of the rules.
test("point 2: each of the five questions sets the pack apart, and what is going on now has help called before anything else", () => {
  const five = ["hot", "smoke-or-smell", "swollen", "leaking", "impact-or-water"] as const;
  expect(five.map((sign) => dangerOf([sign]).kind)).toEqual([
    "keep-away",
    "keep-away",
    "set-apart",
    "set-apart",
    "set-apart",
  ]);
  expect(scripts["keep-away"].does[1]).toMatch(/Call the emergency number/);
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
