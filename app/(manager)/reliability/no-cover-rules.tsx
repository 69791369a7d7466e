import { Notice } from "@/app/_components/notice";
import { coverRulesSentence } from "@/lib/reliability/cover-rules-sentence";

/** Said where a house has no rules of cover yet, since numbers end with the cover everywhere else. */
export function NoCoverRules({ hasRules }: { readonly hasRules: boolean }) {
  const sentence = coverRulesSentence(hasRules);
  return sentence === "" ? null : (
    <Notice kind="caution" title="There is no end of cover">
      <p>{sentence}</p>
    </Notice>
  );
}
