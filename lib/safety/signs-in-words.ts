import { type DangerAnswer, type DangerSign, dangerLabels } from "@/lib/returns/danger-signs";
import { type IncidentFlag, incidentFlagLabels } from "./incident-flags";

// Whoever writes of smoke or fire and ticks neither is asked whether they meant to. Nothing is decided by it: words alone tick no
// sign, raise no flag and hold nothing up, because a word is also written to deny ("no smoke") and in languages nobody listed.

export const writtenSigns = ["fire", "smoke"] as const;
export type WrittenSign = (typeof writtenSigns)[number];

/**
 * Words by which people write of it in the languages of the notices, without their accents. Whole words, but those that end in "-",
 * which begin longer ones. The German word for a blaze is left out where it stands alone: in English it is a make.
 */
const wordsOf: Readonly<Record<WrittenSign, readonly string[]>> = {
  fire: [
    ...["fire", "fires", "flame", "flames", "flaming", "burn", "burns", "burned", "burnt", "burning", "ignited"],
    ...["feuer-", "flamm-", "brennt", "brennen", "brennend-", "brannte-", "brandgeruch", "brandloch", "brandfleck-"],
    ...["gebrannt", "abgebrannt", "angebrannt", "ausgebrannt", "verbrannt", "entzundet"],
    ...["fuego", "fuegos", "incendio", "incendios", "llamas", "arde", "ardia", "ardio", "ardiendo"],
    ...["quema", "quemo", "quemaba", "quemando", "quemado", "quemada"],
  ],
  smoke: [
    ...["smok-", "fumes"],
    ...["rauch-", "geraucht", "verraucht", "qualm-", "gequalmt"],
    ...["humo", "humos", "humea", "humeo", "humeaba", "humeando", "humeante"],
  ],
};

/** What a text speaks of, whatever it says of it. */
export function signsWrittenOf(text: string): WrittenSign[] {
  const plain = text.normalize("NFD").replaceAll(/\p{M}/gu, "").toLowerCase();
  const written = plain.split(/[^\p{L}]+/u);
  const isWord = (word: string) =>
    word.endsWith("-") ? written.some((one) => one.startsWith(word.slice(0, -1))) : written.includes(word);
  return writtenSigns.filter((sign) => wordsOf[sign].some(isWord));
}

/** The box of a form that says the same as a word. */
interface SignToTick {
  readonly value: string;
  readonly label: string;
}

const ofReturn = (sign: DangerSign): SignToTick => ({ value: sign, label: dangerLabels[sign] });
const ofIncident = (flag: IncidentFlag): SignToTick => ({ value: flag, label: incidentFlagLabels[flag] });

/** The lists of signs there are: what is asked with every return, and what makes an incident. */
export const signLists = {
  return: { fire: ofReturn("fire-or-damage-nearby"), smoke: ofReturn("smoke-or-smell") },
  incident: { fire: ofIncident("fire"), smoke: ofIncident("smoke") },
} as const satisfies Readonly<Record<string, Readonly<Record<WrittenSign, SignToTick>>>>;
export type SignList = keyof typeof signLists;

const NONE: DangerAnswer = "none-of-these";

/** What a text speaks of and no box says, of one list. */
function signsUnticked(text: string, ticked: readonly string[], list: SignList): WrittenSign[] {
  return signsWrittenOf(text).filter((sign) => !ticked.includes(signLists[list][sign].value));
}

/** What to ask whoever wrote these words with these boxes ticked; null where nothing is to be asked. */
export function askWhetherTicked(text: string, ticked: readonly string[], list: SignList): string | null {
  const signs = signLists[list];
  const missing = signsUnticked(text, ticked, list);
  if (missing.length === 0) return null;
  const named = missing.map((sign) => `“${signs[sign].label}”`).join(" and ");
  const isAnyTicked = ticked.some((value) => value !== NONE);
  const what = isAnyTicked ? "ticked other signs alone" : "ticked no sign";
  return `You wrote of ${missing.join(" and ")} and ${what}. If it happened, tick ${named}. If it did not, leave it: nothing is ticked for you.`;
}

/** What to ask whoever raises or lowers a flag and writes of it; null where nothing is to be asked. */
export function askOfFlag(text: string): string | null {
  const written = signsWrittenOf(text);
  if (written.length === 0) return null;
  return `You wrote of ${written.join(" and ")}. A flag says how the pack is handled, and no clock of a report to an authority hangs on it: if it happened, raise an incident too.`;
}

/** For whoever reads a complaint whose words speak of what no sign beside it says; null where there is nothing to ask. */
export function askOfComplaint(text: string, ticked: readonly string[]): string | null {
  const missing = signsUnticked(text, ticked, "return");
  if (missing.length === 0) return null;
  return `The words speak of ${missing.join(" and ")}, and no such sign was ticked: ask the dealer. If it happened, raise an incident; until then the pack is watched no longer than any other.`;
}
