import { headerWords } from "@/lib/readings/header-words";

/*
 * Words of temperature columns in seven languages (English, German, Spanish, French, Italian, Portuguese, Dutch; accents taken off).
 * Common practice, no source.
 */
const degreeWords: ReadonlySet<string> = new Set([
  ...[
    "temp",
    "temperature",
    "temperatures",
    "temperatur",
    "temperaturen",
    "temperatura",
    "temperaturas",
    "temperatuur",
  ],
  ...["zelltemperatur", "zellentemperatur", "batterietemperatur", "akkutemperatur", "packtemperatur"],
  ...["celtemperatuur", "accutemperatuur", "batterijtemperatuur", "temperaturfuhler", "temperatursensor"],
  ...["hochsttemperatur", "maximaltemperatur", "minimaltemperatur"],
]);
const extremeWords: ReadonlySet<string> = new Set([
  ...["max", "maximum", "maximal", "maximale", "maxima", "maximo", "massima", "highest", "hochste"],
  ...["min", "minimum", "minimal", "minimale", "minima", "minimo", "lowest", "niedrigste"],
  ...["avg", "average", "mean", "mittlere", "media", "medio", "moyenne", "gemiddelde"],
  ...["hochsttemperatur", "maximaltemperatur", "minimaltemperatur"],
]);
const packWords: ReadonlySet<string> = new Set([
  ...[
    "cell",
    "cells",
    "zelle",
    "zellen",
    "celda",
    "celdas",
    "cellule",
    "cellules",
    "cella",
    "celle",
    "celula",
    "celulas",
  ],
  ...["cel", "cellen", "group", "gruppe", "grupo", "groupe", "gruppo", "groep"],
  ...["pack", "battery", "batt", "bat", "batterie", "bateria", "batteria", "batterij", "akku", "accu"],
  ...["sensor", "sensors", "probe", "ntc", "thermistor", "fuhler", "sonda", "sonde", "capteur", "sensore", "voeler"],
  ...["of", "de", "del", "della", "di", "da", "do", "du", "der", "la", "van", "t"],
]);
const switchWords: ReadonlySet<string> = new Set(["mos", "mosfet", "mosfets", "fet", "fets", "endstufe"]);
const roomWords: ReadonlySet<string> = new Set(["ambient", "umgebung", "ambiente", "ambiante", "omgeving"]);
/** Flags, counts, settings, and parts outside the pack: they speak of a temperature and are none of the pack. */
const otherThings =
  /alarm|warn|error|fehler|fault|flag|status|protect|schutz|count|zahler|limit|grenz|grens|schwelle|threshold|umbral|seuil|soglia|setpoint|^set$|^soll|target|delay|hyster|^over|^under|^uber|^unter|^high$|^low$|motor|controller|regler|lader|charger|cargador|chargeur|koeff|coeff|delta|diff|spread|gradient|anstieg|^rise$|^rate$/;
const unitWords: ReadonlySet<string> = new Set([
  "degc",
  "celsius",
  "degf",
  "fahrenheit",
  "decidegc",
  "decik",
  "kelvin",
]);

/** What a heading of these words, its number and unit taken out, is the temperature of; null where one of its words is not known. */
export function temperatureOfWords(
  words: readonly string[],
): "temperature" | "mosfet-temperature" | "ambient-temperature" | null {
  if (!words.some((word) => degreeWords.has(word))) return null;
  // "Max temp cell" may be the number of the warmest cell: a person is asked.
  const isPlaceOfExtreme = words.some((word) => extremeWords.has(word)) && packWords.has(words.at(-1) ?? "");
  if (isPlaceOfExtreme) return null;
  const of = (kinds: readonly ReadonlySet<string>[]) =>
    words.every((word) => degreeWords.has(word) || kinds.some((kind) => kind.has(word)));
  if (of([packWords, extremeWords])) return "temperature";
  if (of([packWords, switchWords])) return "mosfet-temperature";
  return of([packWords, roomWords]) ? "ambient-temperature" : null;
}

/** Whether a heading nobody knows may be a temperature of the pack, by its words or its unit. */
export function speaksOfTemperature(header: string): boolean {
  const words = headerWords(header);
  if (words.some((word) => otherThings.test(word))) return false;
  return words.some((word) => degreeWords.has(word) || /temperatu+r$/.test(word) || unitWords.has(word));
}

/** Whether a heading names the highest, the lowest or the mean of several. */
export function isOfSeveral(header: string): boolean {
  return headerWords(header).some((word) => extremeWords.has(word));
}
