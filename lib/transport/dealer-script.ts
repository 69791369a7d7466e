import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import type { Danger } from "@/lib/returns/danger-signs";
import type { TransportRules } from "./rule-set.schema";
import { notChecked, sayAlso } from "./said-also";

export interface DealerScript {
  readonly headline: string;
  readonly does: readonly string[];
  readonly donts: readonly string[];
  /** Its sentences, and what stands over and under them, in the dealer's language, by the English one; empty where that is English. */
  readonly also: Readonly<Record<string, string>>;
  readonly language: NoticeLanguage;
}

/** What stands over the two lists. */
export const listTitles = { does: "Do", donts: "Do not" } as const;

/** What a dealer is told, by how grave the danger answers are. */
export type DealerScripts = Readonly<Record<Danger["kind"], DealerScript>>;

/** The scripts of a rule set as sentences; where each comes from stands on the page of the rules. */
export function dealerScripts(
  { dealerScripts: scripts }: Pick<TransportRules, "dealerScripts">,
  language: NoticeLanguage,
): DealerScripts {
  const sentences = (script: TransportRules["dealerScripts"]["none"]): DealerScript => {
    const { headline } = script;
    const does = script.does.map(({ text }) => text);
    const donts = script.donts.map(({ text }) => text);
    const also = [headline, ...does, ...donts, ...Object.values(listTitles), notChecked.beside].flatMap((text) => {
      const said = sayAlso(language, text);
      return said === null ? [] : [[text, said]];
    });
    return { headline, does, donts, also: Object.fromEntries(also), language };
  };
  return {
    "keep-away": sentences(scripts["keep-away"]),
    "set-apart": sentences(scripts["set-apart"]),
    none: sentences(scripts.none),
  };
}
