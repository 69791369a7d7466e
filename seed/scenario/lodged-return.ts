import type { PackModel } from "@/lib/packs/pack-model";
import type { DangerSign } from "@/lib/returns/danger-signs";
import type { NoFileReason } from "@/lib/returns/no-file-reasons";
import type { SeededRandom } from "../simulator/seeded-random";
import { type ConcernLanguage, complaints } from "./concerns";
import type { Episode } from "./episode";
import { readingsFor } from "./readings";
import type { ScenarioPack, ScenarioReturn } from "./scenario";

type Lodged = Pick<
  ScenarioReturn,
  "concern" | "language" | "symptom" | "conditions" | "dangerSigns" | "readings" | "noFileReason"
>;

/** Share of the returns that come with a readings file: invented. */
const withFileShare = 0.86;

/** What the dealer wrote down and attached when sending the return in. */
export function lodgedPart(episode: Episode, pack: ScenarioPack, model: PackModel, random: SeededRandom): Lodged {
  const complaint = complaints[episode.fault];
  const language = languageOf(episode.dealer.country);
  const hasFile = episode.fault === "acute-event" || random.chance(withFileShare);
  return {
    concern: random.pick(complaint.words[language]),
    language,
    symptom: random.pick(complaint.symptoms),
    conditions: complaint.conditions.filter(() => random.chance(0.6)),
    dangerSigns: dangerSignsOf(episode, random),
    readings: hasFile ? readingsFor(pack, model, episode) : null,
    noFileReason: hasFile ? null : noFileReasonOf(episode, random),
  };
}

function languageOf(country: string): ConcernLanguage {
  return country === "DE" ? "de" : country === "PT" ? "pt" : "en";
}

function dangerSignsOf(episode: Episode, random: SeededRandom): DangerSign[] {
  switch (episode.fault) {
    case "acute-event":
      return ["hot", "smoke-or-smell", "noise-from-inside"];
    case "mechanical-damage":
      return ["impact-or-water"];
    case "water-ingress":
      return random.chance(0.6) ? ["impact-or-water"] : [];
    case "self-discharge":
    case "over-discharge":
      return random.chance(0.12) ? ["swollen"] : [];
    default:
      return [];
  }
}

function noFileReasonOf(episode: Episode, random: SeededRandom): NoFileReason {
  if (episode.fault === "power-stage-fault" || episode.fault === "over-discharge") {
    return "pack-does-not-answer";
  }
  return random.pick<NoFileReason>([
    "nothing-to-read-it-with",
    "nothing-to-read-it-with",
    "reading-it-failed",
    "later",
  ]);
}
