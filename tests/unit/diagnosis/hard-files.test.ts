import { expect, test } from "vitest";
import { bareFinding } from "@/tests/support/bare-finding";
import { failsHardFile, hardKinds, makeHardTrial } from "../../bench/diagnosis/hard-files";
import { judgeTrial } from "../../bench/diagnosis/judge-trial";

// One file of each kind of the scored benchmark (npm run bench:diagnosis -- --hard): what one column alone shows, or a silent one hides.
test.each(hardKinds.map((kind, place) => [kind, place] as const))(
  "%s: the verdict does not do what it must not",
  (kind, place) => {
    const hard = makeHardTrial(kind === "current missing in part" ? 5 : 4, place);
    expect(hard.kind).toBe(kind);
    expect(failsHardFile(hard, judgeTrial(hard.trial))).toBe(false);
  },
);

test("a verdict that calls a pack with a live case sound fails, and so does one that accuses a sound pack", () => {
  const verdict = judgeTrial(makeHardTrial(4, 2).trial);
  expect(failsHardFile(makeHardTrial(4, 0), { ...verdict, findings: [bareFinding] })).toBe(true);
  const acute = { ...verdict, findings: [{ ...bareFinding, fault: "acute-event" as const }] };
  expect(failsHardFile(makeHardTrial(4, 8), acute)).toBe(true);
  const accusing = { ...verdict, falseFindings: [{ ...bareFinding, fault: "main-lead" as const }] };
  expect(failsHardFile(makeHardTrial(4, 2), accusing)).toBe(true);
});
