import { beforeLoad } from "./draft-before-load";
import { type DraftFacts, HOT_OR_GAS, LIVE, LOADED, look, ofBuild, plainTest, practice } from "./draft-parts";
import { underLoad } from "./draft-under-load";
import { type TestDefinition, testListSchema } from "./test-definition.schema";

/**
 * A first plan for a pack model, to be changed and approved by people: nothing of it counts before. The order of the
 * steps is common practice; where a number has no better source its note says so (engineering defaults, no authority).
 */
export function draftTests(facts: DraftFacts): TestDefinition[] {
  return testListSchema.parse([...beforeLoad(facts), ...underLoad(facts), ...lastTests()]);
}

function lastTests() {
  return [
    {
      ...plainTest,
      key: "shaken",
      title: "Shaken, with the log running",
      phase: "stress",
      shows: "A loose sense wire, a broken weld or a contact that opens only on the road.",
      method:
        "On the shaker with the profile of the road, small load, groups and current recorded. Look for jumps that go with the shaking.",
      caution: LOADED,
      isMandatory: false,
      isRetest: true,
      reading: look("No group jumps, nothing cuts out, no new noise."),
    },
    {
      ...plainTest,
      key: "leak",
      title: "Leak of the closed case",
      phase: "stress",
      shows: "A seal or a potting that lets water in.",
      method: "Small overpressure at the vent, valve closed, five minutes. Keep the loss of pressure per minute.",
      caution: "Never above the pressure the drawing allows: a case that bursts throws parts.",
      isMandatory: false,
      isRetest: true,
      reading: {
        kind: "number",
        instrument: "leak-tester",
        unit: "mbar/min",
        limits: practice(null, 2, "Common practice of the trade, no source"),
        buildLimits: ofBuild(null, 1, "Upper limit at the end of the line; rule of this house"),
      },
    },
    {
      ...plainTest,
      key: "opened",
      title: "Opened and looked into",
      phase: "opening",
      shows:
        "Weld, link, cell and potting themselves. A potted pack is lost by it, and so is the evidence of its welds.",
      method:
        "Only when every other answer is in. Photograph each layer before the next is taken away; keep the parts with the reference.",
      caution: `${LIVE} ${HOT_OR_GAS} Cutting and potting dust: extraction, eye and breathing protection.`,
      isMandatory: false,
      isDestructive: true,
      isRetest: false,
      reading: look("Welds, links and potting as drawn, no trace of heat or water."),
    },
  ];
}
