import type { Coverage } from "@/lib/diagnosis/coverage";
import { faultWords } from "@/lib/diagnosis/fault-words";
import { type Fault, type Finding, isGrave, type Suggestion } from "@/lib/diagnosis/finding";
import type { NotSeen } from "@/lib/diagnosis/not-seen";
import { beforeCurrent, notToBeCharged } from "@/lib/diagnosis/not-to-be-charged";
import { plainFaultOf, plainIsolation, plainRemedy } from "@/lib/diagnosis/plain-reasons";
import { remedyForFault, remedyPhrase } from "@/lib/diagnosis/remedy-for-fault";
import { leavesUnseen, remedyOfAll } from "@/lib/diagnosis/remedy-of-all";
import { areRivals } from "@/lib/diagnosis/rivals";
import { dangerUntold, maybeAcute } from "@/lib/diagnosis/suggest-before-current";
import { alsoFound, answer, inHundred, unsound } from "@/lib/diagnosis/suggestion-answer";
import { circumstances } from "@/lib/diagnosis/suggestion-circumstances";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";
import { testLeads } from "@/lib/diagnosis/test-leads";
import { unseenBehind } from "@/lib/diagnosis/unseen-behind";

const onlyAPerson = "Only a person who has seen the pack may lower this.";

/**
 * A suggestion from the findings and what is known of the return, with its reasons, most weighty first, and what would
 * change it. Danger comes before likelihood: any finding of class A0 or A1 isolates the pack, whatever its cover, age or
 * build; a finding behind the likeliest keeps the pack from being put right from afar. A leading finding of low confidence, or one no test of its own supports yet, leads to cannot-tell with the test
 * to do next. Cover says who pays and changes neither remedy nor safety.
 */
export function suggest(
  findings: readonly Finding[],
  coverage: Pick<Coverage, "misfit" | "missing" | "unseen">,
  leastConfidence: number,
  context: SuggestionContext = {},
): Suggestion {
  const dangerous = findings.find(({ safetyClass }) => isGrave(safetyClass));
  const missing = [...new Set([...coverage.missing, ...coverage.unseen.map(({ because }) => because)])];
  if (dangerous !== undefined) return isolate(dangerous, missing);
  if (coverage.misfit !== null) {
    return answer(
      "cannot-tell",
      [
        coverage.misfit,
        "Findings of such a file may be another pack's: read the readings from this pack and send that file.",
      ],
      {
        plain: ["The file does not fit this pack. Read the readings from this pack and send that file."],
        wouldChange: ["A file read from this pack would be judged anew."],
        missing,
      },
    );
  }
  const unclear = coverage.unseen.filter(({ fault }) => fault === "acute-event");
  if (unclear.length > 0) return maybeAcute(unclear, findings, missing);
  const charging = notToBeCharged(findings, coverage.unseen);
  const first = beforeCurrent(coverage.unseen);
  const leading = findings[0];
  if (leading === undefined) {
    const why =
      coverage.missing.length > 0
        ? coverage.missing
        : ["Nothing in the log supports a finding, and not everything could be judged."];
    return answer("cannot-tell", [...charging.reasons, ...why, unsound, ...doNext(coverage)], {
      plain: ["The readings do not show enough to say what is wrong.", ...charging.plain, plainRemedy["cannot-tell"]],
      wouldChange: whatTheFileLacks(missing),
      missing,
    });
  }
  if (leading.confidence < leastConfidence) {
    return answer(
      "cannot-tell",
      [
        ...charging.reasons,
        `The likeliest finding is not sure enough to act on: ${faultWords[leading.fault].toLowerCase()} (${inHundred(leading)}).`,
        ...first.map((next) => `First: ${next}`),
        `${first.length > 0 ? "Only then" : "Next"}: ${leading.nextTest}`,
        ...coverage.missing,
      ],
      {
        plain: [
          "The readings point to something, but not surely enough to act on.",
          ...charging.plain,
          plainRemedy["cannot-tell"],
        ],
        wouldChange: [
          `A test that confirms it would settle the remedy: ${leading.nextTest}`,
          ...whatTheFileLacks(missing),
        ],
        missing,
      },
    );
  }
  const behind =
    context.complaint !== undefined && leavesUnseen(remedyOfAll(leading, findings, context).remedy)
      ? unseenBehind(
          context.complaint,
          coverage.unseen,
          findings.filter(({ confidence }) => confidence >= leastConfidence),
        )
      : [];
  if (behind.length > 0) return complaintNotSeen(findings, behind, missing, charging);
  if (first.length > 0 && leavesUnseen(remedyOfAll(leading, findings, context).remedy))
    return dangerUntold(findings, coverage.unseen, missing, charging);
  return forFinding(leading, findings, missing, context, { charging, first });
}

/** Classes whose tests answer what keeps a pack from being told at all, the widest first. */
const answersMost: readonly Fault[] = ["high-resistance-cell", "weak-cell", "temperature-sensor"];
const fullCycle =
  "Full cycle at C/5 with rests of two hours at both ends, current, all group voltages and temperatures logged together.";

/** The test that would let it be told, never "cannot tell" alone: first of what by itself keeps the pack from being called sound. */
function doNext({ unseen, missing }: Pick<Coverage, "missing" | "unseen">): string[] {
  const first = beforeCurrent(unseen);
  if (first.length > 0) return [`To be able to tell, before anything else: ${first.join(" ")}`];
  const decisive = unseen.filter(({ because }) => missing.includes(because));
  const widest = answersMost.flatMap((fault) => unseen.filter((one) => one.fault === fault));
  const tests = [...decisive.filter(({ fault }) => !answersMost.includes(fault)), ...widest].map(({ next }) => next);
  const wanted = [...new Set(tests)];
  return [`To be able to tell: ${wanted.length > 0 ? wanted.join(" ") : fullCycle}`];
}

/** Nobody would look at the pack by what the file shows, but what the customer complains of it could not have shown. */
function complaintNotSeen(
  findings: readonly Finding[],
  behind: readonly NotSeen[],
  missing: readonly string[],
  charging: ReturnType<typeof notToBeCharged>,
): Suggestion {
  const tests = [...new Set(behind.map(({ next }) => next))].slice(0, 1);
  const found = findings.filter(({ fault }) => fault !== "no-fault-found");
  return answer(
    "cannot-tell",
    [
      ...charging.reasons,
      found.length === 0
        ? "Nothing in the file is at fault, but what was complained of points to something it could not have shown."
        : "What was found does not explain what was complained of, and that points to something the file could not have shown.",
      ...new Set(behind.map(({ because }) => because)),
      ...found.map(alsoFound),
      ...tests.map((next) => `Do this next: ${next}`),
    ],
    {
      plain: [
        "The readings could not have shown what was complained of.",
        ...charging.plain,
        plainRemedy["cannot-tell"],
      ],
      wouldChange: tests.map((next) => `What it shows would be judged anew: ${next}`),
      missing,
    },
  );
}

function isolate(dangerous: Finding, missing: readonly string[]): Suggestion {
  const acute = dangerous.safetyClass === "A0";
  return answer(
    "isolate",
    [
      `Safety class ${dangerous.safetyClass}: ${dangerous.evidenceFor[0] ?? faultWords[dangerous.fault]}`,
      acute ? "Keep away; no handling, no transport." : "Quarantine; no ordinary transport, do not charge.",
      onlyAPerson,
    ],
    {
      plain: [plainFaultOf(dangerous), acute ? plainIsolation.acute : plainIsolation.critical],
      wouldChange: ["Nothing in a file changes this. A named person who has examined the pack may."],
      missing,
    },
  );
}

function forFinding(
  leading: Finding,
  findings: readonly Finding[],
  missing: readonly string[],
  context: SuggestionContext,
  { charging, first }: { readonly charging: ReturnType<typeof notToBeCharged>; readonly first: readonly string[] },
): Suggestion {
  const { remedy, because, decidedBy, wouldChange } = remedyOfAll(leading, findings, context);
  const around = circumstances(leading, remedy, context);
  const others = findings.filter((other) => other !== leading);
  const rival = others.find(
    (other) =>
      areRivals(leading, other) && remedyForFault(other, context).remedy !== remedyForFault(leading, context).remedy,
  );
  const besides = others.filter((other) => !areRivals(leading, other));
  const plain = [...new Set([leading, decidedBy].map(plainFaultOf))];
  return answer(
    remedy,
    [
      ...charging.reasons,
      ...(isOpen(leading) ? because : []),
      ...leading.evidenceFor.slice(0, 2),
      ...(leading.fault === "no-fault-found" && missing.length > 0 ? [`Not shown: ${missing.join(" ")}`] : []),
      ...(isOpen(leading) ? [] : because),
      ...around.reasons,
      ...besides.map(alsoFound),
      ...first.map((next) => `Before any test under load: ${next}`),
      rival === undefined
        ? `${isOpen(leading) ? testLeads.tells : testLeads.confirms}${leading.nextTest}`
        : `Not settled against ${faultWords[rival.fault].toLowerCase()} (${inHundred(rival)}). To separate them: ${leading.nextTest}`,
    ],
    {
      plain: [
        ...plain,
        ...(plain.some((one) => /not (be )?charge/.test(one)) ? [] : charging.plain),
        plainRemedy[remedy],
        ...around.plain,
      ],
      wouldChange: [
        ...(rival === undefined
          ? []
          : [
              `If the test shows ${faultWords[rival.fault].toLowerCase()} instead: ${remedyPhrase[remedyForFault(rival, context).remedy]}.`,
            ]),
        ...wouldChange,
        ...around.wouldChange,
        ...(leading.fault === "no-fault-found" ? whatTheFileLacks(missing) : []),
        "Heat, smell, swelling, a leak or a blow seen on the pack comes before all of this: then it is set apart.",
      ],
      missing,
    },
  );
}

/** Nothing found, and not enough seen to call the cells sound. */
function isOpen({ fault, safetyClass }: Finding): boolean {
  return fault === "no-fault-found" && safetyClass !== "C";
}

function whatTheFileLacks(missing: readonly string[]): string[] {
  return missing.length === 0 ? [] : [`A longer file that fills this would be judged anew: ${missing.join(" ")}`];
}
