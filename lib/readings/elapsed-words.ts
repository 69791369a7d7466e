const MINUTE_S = 60;
const HOUR_S = 3600;
const DAY_S = 86_400;

/** A span of time by its two largest units: "45 s", "12 min", "3 h 10 min", "4 d 6 h". Domain: 0 or more; rounds to the nearest. */
export function sayElapsed(seconds: number): string {
  if (!(seconds >= 0 && Number.isFinite(seconds))) throw new RangeError(`no span of time: ${seconds} s`);
  if (seconds < MINUTE_S) return `${Math.round(seconds)} s`;
  if (seconds < HOUR_S) return joined(seconds, MINUTE_S, "min", 1, "s");
  if (seconds < DAY_S) return joined(seconds, HOUR_S, "h", MINUTE_S, "min");
  return joined(seconds, DAY_S, "d", HOUR_S, "h");
}

function joined(seconds: number, largeS: number, large: string, smallS: number, small: string): string {
  const rounded = Math.round(seconds / smallS) * smallS;
  const rest = Math.round((rounded % largeS) / smallS);
  const whole = `${Math.floor(rounded / largeS)} ${large}`;
  return rest === 0 ? whole : `${whole} ${rest} ${small}`;
}
