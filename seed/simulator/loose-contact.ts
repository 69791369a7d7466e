import type { LooseTap } from "./fault-plan";
import type { SeededRandom } from "./seeded-random";

/** The error that a sense contact adds to the potential of its tap, V: nothing while it touches, a wandering value while open. */
export interface LooseContact {
  readonly errorV: () => number;
  /** Lets `seconds` pass; vibration opens and closes the contact, a parked pack mostly keeps the state it was left in. */
  readonly shake: (seconds: number, riding: boolean) => void;
}

/** Mean time that one opening lasts on the road, s: engineering default. */
const openForS = 6;
/** A parked contact opens and closes this much more seldom. */
const parkedCalm = 0.004;

export function looseContact(tap: LooseTap, random: SeededRandom): LooseContact {
  const closedForS = (openForS * (1 - tap.openShare)) / tap.openShare;
  let open = false;
  let level = 0;
  return {
    errorV: () => (open ? level : 0),
    shake(seconds, riding) {
      const pace = seconds * (riding ? 1 : parkedCalm);
      const turns = random.chance(1 - Math.exp(-pace / (open ? openForS : closedForS)));
      if (turns) {
        open = !open;
        level = (random.chance(0.5) ? 1 : -1) * tap.amplitudeV * random.between(0.5, 1.5);
      }
      if (open && riding) {
        level += random.normal(0, 0.12 * tap.amplitudeV);
      }
    },
  };
}
