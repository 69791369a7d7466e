import { custodyWords } from "./custody-track";
import { holdWords } from "./legal-hold";
import { remedyStateWords } from "./remedy-track";
import { safetyWords } from "./safety-track";

/** What is followed beside the case of a return. */
export const trackNames = ["safety", "custody", "hold", "remedy"] as const;
export type TrackName = (typeof trackNames)[number];

const words: Readonly<Record<TrackName, Readonly<Record<string, string>>>> = {
  safety: safetyWords,
  custody: custodyWords,
  hold: holdWords,
  remedy: remedyStateWords,
};

/** Where a track stands, in words. Throws RangeError for a state that it does not know. */
export function trackStateWords(track: TrackName, state: string): string {
  const said = Object.hasOwn(words[track], state) ? words[track][state] : undefined;
  if (said === undefined) throw new RangeError(`${track}: ${state} is unknown`);
  return said;
}
