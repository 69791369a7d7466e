import type { Danger } from "@/lib/returns/danger-signs";
import type { TransportRules } from "./rule-set.schema";

export interface DealerScript {
  readonly headline: string;
  readonly does: readonly string[];
  readonly donts: readonly string[];
}

/** What a dealer is told, by how grave the danger answers are. */
export type DealerScripts = Readonly<Record<Danger["kind"], DealerScript>>;

/** The scripts of a rule set as sentences; where each comes from stands on the page of the rules. */
export function dealerScripts({ dealerScripts: scripts }: Pick<TransportRules, "dealerScripts">): DealerScripts {
  const sentences = ({ headline, does, donts }: TransportRules["dealerScripts"]["none"]): DealerScript => ({
    headline,
    does: does.map(({ text }) => text),
    donts: donts.map(({ text }) => text),
  });
  return {
    "keep-away": sentences(scripts["keep-away"]),
    "set-apart": sentences(scripts["set-apart"]),
    none: sentences(scripts.none),
  };
}
