import { labelOf } from "@/app/_components/label-of";
import { Notice } from "@/app/_components/notice";
import { lowerFirst } from "@/lib/diagnosis/wording";
import { dangerLabels } from "@/lib/returns/danger-signs";
import type { HandlingCaution } from "@/lib/returns/handling-caution";

interface CautionBannerProps {
  readonly caution: HandlingCaution;
  readonly dangerSigns: readonly string[];
}

/** What must be known before a hand goes near the pack. Says first whose word counts more than this page's. */
export function CautionBanner({ caution, dangerSigns }: CautionBannerProps) {
  return (
    <Notice kind={caution.kind} title={caution.title}>
      <p>
        <strong>{caution.deferral}</strong>
      </p>
      <p>{caution.handling}</p>
      {dangerSigns.length === 0 ? null : (
        <p>The dealer told of: {dangerSigns.map((sign) => lowerFirst(labelOf(dangerLabels, sign))).join("; ")}.</p>
      )}
    </Notice>
  );
}
