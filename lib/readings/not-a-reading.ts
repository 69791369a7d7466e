import { unitAtEnd } from "@/lib/readings/column-unit";
import { headerWords } from "@/lib/readings/header-words";

/**
 * What headings say of columns that are not what their unit suggests, in the languages of the vocabulary (English, German, Spanish,
 * French, Italian, Portuguese, Dutch; accents taken off). Common practice, no source. They only keep a proposal back.
 */
const limitWords =
  /limit|grenz|grens|schwelle|drempel|threshold|umbral|seuil|soglia|limiar|max|massim|hochst|^.?min$|minim|^soll|setpoint|^set$|^sp$|target|^ziel|consign|objetivo|rated|nomin|^nenn|peak|spitz|^pico$|picco|piek|^avg|average|mittel|moyen|^medio$|^media$|gemiddeld/;
const otherPlaces =
  /^mos|fet|switch|schalter|ambient|umgebung|umluft|omgeving|aussen|outside|exterior|extern|esterno|^luft|^air$|^aire$|^aria$|motor|phase|fase|controller|regler|lader|charger|cargador|chargeur|balanc|ausgleich|board|platine|^pcb$|^bms$|heatsink|kuhl/;
const counterWords =
  /^(?:n|nr|no|num|number|numero|nummer|id|idx|index|indice|row|rows|record|seq|sequence|sample|samples|count|counter|line|zeile|satz|lfd|zahler|fila|linea|ligne|riga|linha|rij|regel|km|tacho|odo|odometer|distance|distanz|strecke|trip)$/;
const probeWords = /probe|sonde|sonda|sensor|capteur|fuhler|voeler|^ntc$|therm|^temp|^warm|warmte|^heat|^hitze/;

const says = (header: string, pattern: RegExp) => nameWords(header).some((word) => pattern.test(word));

/** A limit, a setting, an extreme or a mean: no value of the moment. */
export function isNoReading(header: string): boolean {
  return says(header, limitWords);
}

/** A reading of something other than the cells: switches, surroundings, motor, charger. */
export function isOfAnotherPlace(header: string): boolean {
  return says(header, otherPlaces);
}

/** The number of a row, or a distance: it rises as the time does and is none. */
export function isRowCount(header: string): boolean {
  return says(header, counterWords);
}

/** A probe of warmth, whose degrees may be as small as volts. */
export function isProbe(header: string): boolean {
  return says(header, probeWords);
}

/** The words of a heading without the unit at their end: "min" there is a minute and no least value. */
function nameWords(header: string): string[] {
  const words = headerWords(header);
  return unitAtEnd(words) === null ? words : words.slice(0, -1);
}
