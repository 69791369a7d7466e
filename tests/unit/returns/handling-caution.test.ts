import fc from "fast-check";
import { expect, test } from "vitest";
import { atTheWorks, custodyPlaces } from "@/lib/returns/custody-track";
import { dangerSigns } from "@/lib/returns/danger-signs";
import { DEFERRAL, handlingCaution } from "@/lib/returns/handling-caution";
import { dangerNow, type SafetyState, safetyStates } from "@/lib/returns/safety-track";
import { dealerScripts } from "@/lib/transport/dealer-script";
import { firstTransportRules } from "@/tests/support/first-transport-rules";

const quiet = { dangerSigns: [], safetyClasses: ["C"], flag: "normal", suggestedRemedy: null, place: "bench" } as const;

test("nothing is said only where the readings show no sign and nobody told of one", () => {
  expect(handlingCaution(quiet)).toBeNull();
  expect(handlingCaution({ ...quiet, safetyClasses: [] })?.kind).toBe("caution");
});

test("findings classed as sound say nothing of a pack of which the readings cannot tell what to do", () => {
  expect(handlingCaution({ ...quiet, suggestedRemedy: "cannot-tell" })).toMatchObject({
    kind: "caution",
    title: "Cannot be judged yet, so treated as damaged",
  });
});

test("a sign that something goes on now keeps every hand away", () => {
  expect(handlingCaution({ ...quiet, dangerSigns: ["noise-from-inside"] })?.title).toBe("Nobody handles this pack now");
  expect(handlingCaution({ ...quiet, safetyClasses: ["A0"] })?.title).toBe("Nobody handles this pack now");
});

test("a flag raised after the form was sent says what a sign on the form says: the graver of both counts", () => {
  const title = (flag: SafetyState, dangerSigns: readonly string[] = []) =>
    handlingCaution({ ...quiet, dangerSigns, flag })?.title;
  for (const flag of ["normal", "caution", "incident-closed"] as const) {
    expect(title(flag)).toBeUndefined();
    expect(dangerNow("none", flag)).toBe("none");
  }
  expect(title("isolate")).toMatch(/^Set apart/);
  expect(title("isolate", ["hot"])).toMatch(/^Nobody handles/);
  for (const flag of ["do-not-move", "incident-open"] as const) {
    expect(title(flag, ["swollen"])).toMatch(/^Nobody handles/);
    expect(dangerNow("set-apart", flag)).toBe("keep-away");
  }
  expect([dangerNow("none", "isolate"), dangerNow("keep-away", "normal")]).toEqual(["set-apart", "keep-away"]);
});

test("critical findings and a suggestion to isolate set the pack apart", () => {
  expect(handlingCaution({ ...quiet, safetyClasses: ["C", "A1"] })?.kind).toBe("danger");
  expect(handlingCaution({ ...quiet, suggestedRemedy: "isolate" })?.kind).toBe("danger");
});

test("a pack set apart is said to lie in a quarantine place only where it does, and to be watched by nobody where it is not here", () => {
  for (const place of custodyPlaces) {
    const { handling = "" } = handlingCaution({ ...quiet, flag: "isolate", place }) ?? {};
    expect(handling.includes("in its quarantine place"), place).toBe(place === "quarantine");
    expect(/not here|knows where it is/.test(handling), place).toBe(!atTheWorks.includes(place));
    expect(handling, place).toMatch(/not charged, discharged, opened or (moved|sent)/);
  }
  const { handling } = handlingCaution({ ...quiet, flag: "do-not-move", place: "with-dealer" }) ?? {};
  expect(handling).toMatch(/^It is not here but with the dealer, and nobody of this house watches it\./);
});

test("of a pack set apart the house says what the dealer reads: outside it goes, and no further", () => {
  const { headline, does } = dealerScripts(firstTransportRules(), "en")["set-apart"];
  expect([headline, ...does].join(" ")).toMatch(/Bring it outside, or have it brought/);
  for (const place of ["with-dealer", "with-customer"] as const) {
    const { handling = "" } = handlingCaution({ ...quiet, flag: "isolate", place }) ?? {};
    expect(handling, place).toMatch(/carried no further than outside, to the place that the dealer's page names/);
    expect(handling, place).not.toMatch(/not .*moved/);
  }
  const keepAway = dealerScripts(firstTransportRules(), "en")["keep-away"];
  expect([...keepAway.does, ...keepAway.donts].join(" ")).not.toMatch(/Bring it outside/);
});

test("every caution puts local rules and trained people before itself and plays nothing down", () => {
  fc.assert(
    fc.property(
      fc.subarray([...dangerSigns]),
      fc.subarray(["A0", "A1", "B", "U", "C"]),
      fc.constantFrom(...safetyStates),
      fc.constantFrom(...custodyPlaces),
      (signs, safetyClasses, flag, place) => {
        const caution = handlingCaution({ dangerSigns: signs, safetyClasses, flag, suggestedRemedy: null, place });
        if (caution === null) return;
        expect(caution.deferral).toBe(DEFERRAL);
        expect(`${caution.title} ${caution.handling}`).not.toMatch(/minor|not reportable|no rights|harmless|safe to/i);
      },
    ),
  );
});
