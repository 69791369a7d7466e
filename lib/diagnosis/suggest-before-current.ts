import type { Finding, Suggestion } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { beforeCurrent, type notToBeCharged } from "@/lib/diagnosis/not-to-be-charged";
import { plainRemedy } from "@/lib/diagnosis/plain-reasons";
import { alsoFound, answer, unsound } from "@/lib/diagnosis/suggestion-answer";
import { testLeads } from "@/lib/diagnosis/test-leads";

/** What was found could be put right from afar, but a danger beside it is not told: the bench looks at that first. */
export function dangerUntold(
  findings: readonly Finding[],
  unseen: readonly NotSeen[],
  missing: readonly string[],
  charging: ReturnType<typeof notToBeCharged>,
): Suggestion {
  const first = beforeCurrent(unseen);
  return answer(
    "cannot-tell",
    [
      ...charging.reasons,
      ...unseen.flatMap((one) => (one.beforeCurrent === true ? [one.because] : [])),
      ...findings.filter(({ fault }) => fault !== "no-fault-found").map(alsoFound),
      unsound,
      `To be able to tell, before anything else: ${first.join(" ")}`,
    ],
    {
      plain: [
        "Something in the readings is not explained and may be dangerous.",
        ...charging.plain,
        plainRemedy["cannot-tell"],
      ],
      wouldChange: first.map((next) => `What it shows would be judged anew: ${next}`),
      missing,
    },
  );
}

/** The file ends before it shows whether it was an emergency: that comes before whatever else was found. */
export function maybeAcute(
  unclear: readonly NotSeen[],
  findings: readonly Finding[],
  missing: readonly string[],
): Suggestion {
  const tests = [...new Set(unclear.map(({ next }) => next))];
  return answer(
    "cannot-tell",
    [
      ...unclear.map(({ because }) => because),
      "Do not charge or ride it, and put no test current through it.",
      ...findings.filter(({ fault }) => fault !== "no-fault-found").map(alsoFound),
      ...missing.filter((one) => !unclear.some(({ because }) => because === one)),
      unsound,
      ...tests.map((test) => `${testLeads.tells}${test}`),
    ],
    {
      plain: [
        "As the readings end, something happens that may be dangerous, heat or a loss of voltage, or a sensor is broken. Keep everybody away from it until its warmth was measured from a distance; if it is hot, smokes or smells, call the emergency services.",
        "Do not charge it and do not ride it.",
        plainRemedy["cannot-tell"],
      ],
      wouldChange: ["Its warmth, measured from a distance, and a file that goes on after these readings."],
      missing,
    },
  );
}
