import { heldWords } from "@/lib/stats/coverage-measurements";
import type { GroupReport } from "./group-report";

/** What the picture of shares failed by age shows: curve, band, grey and second line. `banded` are the groups drawn with their limits. */
export function curveCaption(banded: readonly Pick<GroupReport, "confirmedSoFar">[]): string {
  const allowsForDelay = banded.some(({ confirmedSoFar }) => confirmedSoFar !== null);
  const curve = "Share of packs with a confirmed failure within cover, by months since sale";
  return [
    allowsForDelay ? `${curve}, those on their way to us or undecided allowed for.` : `${curve}.`,
    ...(banded.length === 0 ? [] : [bandSentence(allowsForDelay)]),
    `Grey: no share is told there, of fewer than 20 packs at risk or of too few failures${allowsForDelay ? ", or because too little is confirmed yet; where too little is known to correct, the line ends" : ""}.`,
    ...(allowsForDelay ? ["Dotted: as confirmed so far, which is too low."] : []),
  ].join(" ");
}

function bandSentence(allowsForDelay: boolean): string {
  const band = "The shaded band has the 95 % limits of the table, at each age by itself";
  if (!allowsForDelay) return `${band}.`;
  return `${band}; where it is not grey it held the true share ${heldWords("drawnBand")}. It takes the delay as known: in young fleets with about 60 delays it held ${heldWords("youngDrawnBand")}.`;
}
