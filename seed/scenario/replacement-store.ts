import { type CalendarDate, plusDays } from "@/lib/warranty/calendar";
import { badCellLotCode } from "./lots";
import type { ScenarioPack } from "./scenario";

/** The packs kept back in the maker's store, handed out as replacements, oldest first. */
export class ReplacementStore {
  readonly #waiting: ScenarioPack[];
  readonly #sent = new Map<string, ScenarioPack>();
  readonly #badLotStoppedOn: CalendarDate;

  constructor(packs: readonly ScenarioPack[], badLotStoppedOn: CalendarDate) {
    this.#waiting = packs.filter((pack) => pack.dispatchedOn === null);
    this.#badLotStoppedOn = badLotStoppedOn;
  }

  /** Sends a pack of the revision to the dealer two days after the decision; null where none is in store. */
  send(revisionCode: string, dealerCode: string, decidedOn: CalendarDate): ScenarioPack | null {
    const dispatchedOn = plusDays(decidedOn, 2);
    const found = this.#waiting.findIndex((pack) => {
      const stopped = pack.lotCodes.includes(badCellLotCode) && decidedOn >= this.#badLotStoppedOn;
      return pack.revisionCode === revisionCode && pack.builtOn < decidedOn && !stopped;
    });
    const pack = this.#waiting[found];
    if (pack === undefined) {
      return null;
    }
    this.#waiting.splice(found, 1);
    const sent = { ...pack, dispatchedOn, dealerCode };
    this.#sent.set(pack.serial, sent);
    return sent;
  }

  /** The pack as it is now, with its dispatch where it was sent. */
  latest(pack: ScenarioPack): ScenarioPack {
    return this.#sent.get(pack.serial) ?? pack;
  }
}
