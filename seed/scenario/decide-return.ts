import type { ConfirmedFault } from "@/lib/returns/decision.schema";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import type { SeededRandom } from "../simulator/seeded-random";
import { serviceEmails } from "./dealers";
import type { Episode } from "./episode";
import { decisionReason, isFailure, remedyFor } from "./remedies";
import type { ScenarioDecision, ScenarioReturnState, ScenarioRevision } from "./scenario";
import { instantAt } from "./story-calendar";

export interface Progress {
  readonly state: ScenarioReturnState;
  readonly reviewStartedAt: string | null;
  readonly reviewedBy: string | null;
  readonly decision: ScenarioDecision | null;
  readonly decidedOn: CalendarDate | null;
}

/** The bench works in this zone, and is about so many days behind: younger returns wait, then lie under review. */
const benchZone = "Europe/Berlin";
const waitingDays = 10;
const reviewDays = 27;
const longReviewShare = 0.01;

/** How far a return has come by the data date, and what was decided. */
export function progressOf(
  episode: Episode,
  revision: ScenarioRevision,
  current: ScenarioRevision,
  asOf: CalendarDate,
  random: SeededRandom,
): Progress {
  const { lodgedOn } = episode;
  if (lodgedOn > plusDays(asOf, -waitingDays)) {
    return { state: "sent-in", reviewStartedAt: null, reviewedBy: null, decision: null, decidedOn: null };
  }
  const reviewedBy = random.pick(serviceEmails);
  const startedOn = plusDays(lodgedOn, random.integer(1, 4));
  const reviewStartedAt = instantAt(startedOn, random.integer(8, 15), random.integer(0, 59), benchZone);
  const recent = lodgedOn > plusDays(asOf, -reviewDays);
  const stuck = random.chance(longReviewShare) && lodgedOn > plusDays(asOf, -120);
  if (recent || stuck) {
    return { state: "in-review", reviewStartedAt, reviewedBy, decision: null, decidedOn: null };
  }
  const decidedOn = plusDays(startedOn, random.integer(1, 15));
  const confirmedFault = foundFault(episode, random);
  const remedy = confirmedFault === "unknown" ? "return-as-is" : remedyFor(confirmedFault, revision);
  const decision: ScenarioDecision = {
    remedy,
    confirmedFault,
    confirmedFailure: isFailure(confirmedFault),
    reason: decisionReason(confirmedFault),
    decidedAt: instantAt(decidedOn, random.integer(9, 16), random.integer(0, 59), benchZone),
    decidedBy: reviewedBy,
    replacementRevisionCode: remedy === "replace" ? current.code : null,
  };
  return { state: "decided", reviewStartedAt, reviewedBy, decision, decidedOn };
}

/** What the bench found: mostly the truth, but what comes and goes is sometimes missed. */
function foundFault({ fault }: Episode, random: SeededRandom): ConfirmedFault {
  const comesAndGoes = fault === "sense-wire" || fault === "high-resistance-joint" || fault === "main-lead";
  if (comesAndGoes && random.chance(0.1)) {
    return "no-fault-found";
  }
  return random.chance(0.03) && fault !== "no-fault-found" && fault !== "acute-event" ? "unknown" : fault;
}
