import type { Evidence } from "@/lib/diagnosis/evidence";
import { heatSpread } from "@/lib/diagnosis/heat-spread";
import { inDigits } from "@/lib/diagnosis/wording";

export interface HeatJudged {
  readonly judged: readonly string[];
  readonly missing: readonly string[];
  readonly remarks: readonly string[];
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
