import { expect, test } from "vitest";
import { decidableRemedies } from "@/lib/returns/decision.schema";
import { usedBatteryStatement, whyNoStatement } from "@/lib/transport/used-battery-statement";
import { coverOutcomes } from "@/lib/warranty/cover";

// Regulation (EU) 2023/1542, Annex XIV, point 2(a): sent back for repair under guarantee with the intention of re-use.
test("a repair under guarantee is stated only where the guarantee covers it and nothing else was decided", () => {
  const stated = coverOutcomes.filter((coverOutcome) => whyNoStatement({ coverOutcome, decidedRemedy: null }) === null);
  expect(stated).toEqual(["in-cover", "in-cover-by-grace", "covered-by-field-action"]);
  const decided = decidableRemedies.filter(
    (decidedRemedy) => whyNoStatement({ coverOutcome: "in-cover", decidedRemedy }) === null,
  );
  expect(decided).toEqual(["repair"]);
});

test("from outside the Union and the area around it the sheet says for whose authorities it is written", () => {
  expect(usedBatteryStatement("DE").forCounsel).not.toContain("European Union");
  expect(usedBatteryStatement("IN").forCounsel).toContain("European Union; which papers India asks for");
});
