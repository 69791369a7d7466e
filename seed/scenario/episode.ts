import type { Fault } from "@/lib/diagnosis/finding";
import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import type { SeededRandom } from "../simulator/seeded-random";
import type { ScenarioDealer } from "./scenario";
import { instantAt, storyDateOf } from "./story-calendar";

/** A fault that struck and its way to us: noticed, told, lodged. */
export interface Episode {
  readonly serial: string;
  readonly dealer: ScenarioDealer;
  readonly fault: Fault;
  /** First use of this pack by this customer, for its age and its cycles. */
  readonly inUseSince: CalendarDate;
  readonly noticedOn: CalendarDate;
  /** When it was noticed in the story as written; with the story's serial it is what chance hangs on. */
  readonly storyNoticedOn: CalendarDate;
  readonly storySerial: string;
  readonly toldOn: CalendarDate;
  readonly toldAt: string;
  readonly lodgedOn: CalendarDate;
  readonly lodgedAt: string;
}

/** Mean days between noticing and telling, and between telling and lodging; some dealers let it lie. Invented. */
const tellMeanDays = 6;
const lodgeMeanDays = 2.5;
const forgottenShare = 0.06;

export function episodeFrom(
  known: Pick<Episode, "serial" | "storySerial" | "dealer" | "fault" | "inUseSince" | "noticedOn">,
  asOf: CalendarDate,
  random: SeededRandom,
): Episode {
  const waits = (mean: number) => Math.floor(-mean * Math.log(1 - random.next()));
  const toldOn = plusDays(known.noticedOn, waits(tellMeanDays));
  const forgotten = random.chance(forgottenShare) ? random.integer(14, 45) : 0;
  const lodgedOn = plusDays(toldOn, waits(lodgeMeanDays) + forgotten);
  const toldHour = random.integer(9, 16);
  // A few tell it late in the evening, when the date in UTC is already another one.
  const late = random.chance(0.03) && lodgedOn > toldOn;
  const { zone } = known.dealer;
  return {
    ...known,
    storyNoticedOn: storyDateOf(known.noticedOn, asOf),
    toldOn,
    toldAt: instantAt(toldOn, late ? 23 : toldHour, random.integer(0, 59), zone),
    lodgedOn,
    lodgedAt: instantAt(
      lodgedOn,
      lodgedOn === toldOn ? toldHour + 1 : random.integer(9, 17),
      random.integer(0, 59),
      zone,
    ),
  };
}
