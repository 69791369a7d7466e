import type { Evidence } from "@/lib/diagnosis/evidence";
import { heatSpread } from "@/lib/diagnosis/heat-spread";
import { counted, inDigits, inTime } from "@/lib/diagnosis/wording";
import { noTemperatures } from "@/lib/readings/measure/no-temperature";

export interface HeatJudged {
  readonly judged: readonly string[];
  readonly missing: readonly string[];
  readonly remarks: readonly string[];
}

/**
 * Heat above what cells are stored at that is too short to be told as harm: known from the first row on, and from a minute on no pack
 * is called sound beside it. Reference R1.16 names 60 degC without a duration.
 */
export function briefHeat(evidence: Evidence): Omit<HeatJudged, "judged"> {
  const { abuse, settings } = evidence;
  const { hotC } = settings.abuse;
  const { highestC } = heatSpread(evidence);
  const event = abuse.find(({ kind }) => kind === "hot");
  if (event !== undefined)
    return {
      missing: [
        `The pack stood above ${hotC} degC for ${inTime(event.totalS)} in all (${inDigits(event.worst, 0)} degC at most): what warmed it is not told, and whether it took harm neither.`,
      ],
      remarks: [],
    };
  return highestC === null || highestC <= hotC
    ? { missing: [], remarks: [] }
    : {
        missing: [],
        remarks: [
          `For less than a minute a probe read ${inDigits(highestC, 1)} degC: above ${hotC} degC no cell is stored.`,
        ],
      };
}

/** Whether heat in one place shows, and whether it could have: one probe says nothing of another place. */
export function judgeHeat(evidence: Evidence): HeatJudged {
  const { probes, underLoadK, atRestK } = heatSpread(evidence);
  const { gradientLoadK, gradientRestK } = evidence.settings.verdict;
  if (probes < 2) {
    const remark = "Only one temperature probe was sound: warmth in another place would not show.";
    return { judged: [], missing: [], remarks: probes === 1 ? [remark] : [] };
  }
  const parts = [
    { differenceK: underLoadK, limitK: gradientLoadK, when: "under load" },
    { differenceK: atRestK, limitK: gradientRestK, when: "after an hour of rest" },
  ].flatMap(({ differenceK, ...part }) => (differenceK === null ? [] : [{ differenceK, ...part }]));
  const beyond = parts.filter(({ differenceK, limitK }) => differenceK > limitK);
  const alike = parts.map(({ differenceK, when }) => `${inDigits(differenceK, 1)} K ${when}`).join(", ");
  return {
    judged: beyond.length > 0 || parts.length === 0 ? [] : [`Temperature probes agree within ${alike}.`],
    missing: beyond.map(
      ({ differenceK, limitK, when }) =>
        `Temperature probes lie ${inDigits(differenceK, 1)} K apart ${when} (${limitK} K are usual at most): what is warm there is not told.`,
    ),
    remarks: [],
  };
}

/** Rows in which a probe read what is no temperature, a sentence for each probe. */
export function unreadHeat({ survey, lineOfRow }: Evidence): string[] {
  return noTemperatures(survey).map(
    ({ name, rows, firstRow, firstC }) =>
      `${name} read ${inDigits(firstC, 0)} degC from line ${lineOfRow(firstRow)} on, in ${counted(rows, "row")} what is no temperature: there it counts as not measured.`,
  );
}
