import type { Fault } from "@/lib/diagnosis/finding";
import type { Condition } from "@/lib/returns/conditions";
import type { Symptom } from "@/lib/returns/symptoms";

export type ConcernLanguage = "en" | "de" | "pt";

/** What a customer with this fault says, and what the dealer ticks. */
export interface Complaint {
  readonly symptoms: readonly [Symptom, ...Symptom[]];
  readonly conditions: readonly Condition[];
  readonly words: Readonly<Record<ConcernLanguage, readonly [string, ...string[]]>>;
}

const shortRange: Complaint = {
  symptoms: ["short-range", "short-range", "cuts-out-under-load", "charges-only-partly"],
  conditions: ["at-full-power", "always"],
  words: {
    en: [
      "Used to get me to work and back twice. Now it is flat before I am home the first time.",
      "Range is down by a third since the summer and the last bar goes in seconds.",
      "Drops from 30 percent to nothing on the hill by the school.",
      "Says full after an hour on the charger, which it never did before.",
    ],
    de: [
      "Früher 60 Kilometer, jetzt ist nach gut 30 Schluss.",
      "Die letzten Balken sind am Berg auf einmal weg, dann schleicht er nur noch.",
    ],
    pt: [
      "Antes fazia a semana toda com uma carga, agora nem três dias.",
      "De 25 por cento passa logo a zero nas subidas.",
    ],
  },
};

const cutsOut: Complaint = {
  symptoms: ["cuts-out-under-load", "cuts-out-under-load", "shows-a-warning", "gets-hot-in-use"],
  conditions: ["at-full-power", "now-and-then", "when-cold"],
  words: {
    en: [
      "Dies when I pull away hard from the lights, comes back after switching off and on.",
      "Loses power over the cobbles, fine on the smooth road.",
      "Cut out twice on the ramp of the car park with half a charge left.",
      "Feels weaker than it was, and one side of the battery is warm afterwards.",
    ],
    de: [
      "Beim Anfahren geht er aus, nach Aus- und Einschalten läuft er wieder.",
      "Auf Kopfsteinpflaster setzt der Antrieb kurz aus.",
    ],
    pt: ["Vai abaixo quando acelero a fundo.", "Na calçada falha, na estrada lisa não."],
  },
};

const jumpyReading: Complaint = {
  symptoms: ["shows-a-warning", "cuts-out-under-load", "does-not-charge"],
  conditions: ["now-and-then", "in-the-wet"],
  words: {
    en: [
      "Warning light comes and goes with every pothole.",
      "Stops charging with a warning, next morning it charges as if nothing had been.",
      "Switches itself off for no reason, then says cell fault, then it is gone again.",
    ],
    de: [
      "Die Warnlampe kommt bei jedem Schlagloch und geht wieder weg.",
      "Lädt mal, lädt mal nicht, ganz ohne Muster.",
    ],
    pt: ["Acende o aviso nos buracos e depois apaga-se.", "Às vezes carrega, outras vezes não."],
  },
};

const standingLoss: Complaint = {
  symptoms: ["loses-charge-standing", "loses-charge-standing", "short-range"],
  conditions: ["after-storage"],
  words: {
    en: [
      "Charged it Friday, did not touch it, on Wednesday it was at half.",
      "Empty again after ten days in the shed.",
      "Every week it stands it needs charging before I can ride.",
    ],
    de: ["Nach zwei Wochen in der Garage fast leer, ohne einen Meter zu fahren."],
    pt: ["Fica parada uma semana e perde metade da carga."],
  },
};

const dead: Complaint = {
  symptoms: ["does-not-switch-on", "does-not-charge"],
  conditions: ["after-storage", "always"],
  words: {
    en: [
      "Stood for a couple of months, now nothing. No light, charger stays green.",
      "Will not switch on at all.",
      "Charger clicks once and stops, the scooter stays dark.",
    ],
    de: ["Nach langem Stehen tot, das Ladegerät erkennt ihn nicht.", "Geht nicht mehr an."],
    pt: ["Não liga e o carregador não faz nada."],
  },
};

const refusesCharge: Complaint = {
  symptoms: ["does-not-charge", "shows-a-warning", "charges-only-partly"],
  conditions: ["while-charging"],
  words: {
    en: [
      "Refuses to charge, says too cold, and I am standing here in a T-shirt.",
      "Charging stops after a few minutes with the temperature sign.",
      "Never gets beyond 80 percent any more, whatever I do.",
    ],
    de: [
      "Lädt nicht, zeigt das Temperaturzeichen, dabei steht er im warmen Flur.",
      "Bei 85 Prozent hört er auf zu laden.",
    ],
    pt: ["Não carrega, diz que está frio, mas está dentro de casa."],
  },
};

const wet: Complaint = {
  symptoms: ["shows-a-warning", "loses-charge-standing", "does-not-switch-on"],
  conditions: ["in-the-wet", "after-washing"],
  words: {
    en: [
      "Since the flood in our street it loses charge and the clock is always wrong.",
      "After washing the bike it went mad.",
    ],
    de: ["Seit dem Starkregen spinnt die Anzeige und er entlädt sich."],
    pt: ["Depois das cheias nunca mais ficou bem."],
  },
};

const damaged: Complaint = {
  symptoms: ["damaged-case-or-connector"],
  conditions: ["after-crash-or-drop"],
  words: {
    en: ["Fell down the cellar stairs, corner is cracked.", "Was hit from behind, the case has a dent."],
    de: ["Beim Herausnehmen hingefallen, Gehäuse gerissen."],
    pt: ["Caiu ao chão e rachou o canto."],
  },
};

const vague: Complaint = {
  symptoms: ["something-else", "short-range", "shows-a-warning"],
  conditions: ["now-and-then", "when-cold"],
  words: {
    en: [
      "Does not feel right. Friend's one goes further.",
      "Had a warning once last week, cannot say which.",
      "My neighbour says the battery must be the problem.",
    ],
    de: ["Irgendwas stimmt nicht, einmal war eine Warnung da."],
    pt: ["Acho que anda menos, mas não tenho a certeza."],
  },
};

const acute: Complaint = {
  symptoms: ["noise-or-smell"],
  conditions: ["after-storage"],
  words: {
    en: ["It was standing in the yard, then it hissed and smoked. We all went out."],
    de: ["Stand nur da, dann Zischen und Rauch."],
    pt: ["Estava parada e começou a deitar fumo."],
  },
};

export const complaints: Readonly<Record<Fault, Complaint>> = {
  "weak-cell": shortRange,
  "high-resistance-cell": cutsOut,
  "high-resistance-joint": cutsOut,
  "self-discharge": standingLoss,
  "sense-wire": jumpyReading,
  "measurement-fault": jumpyReading,
  "power-stage-fault": dead,
  imbalance: refusesCharge,
  "over-discharge": dead,
  "temperature-sensor": refusesCharge,
  "water-ingress": wet,
  "main-lead": cutsOut,
  "outside-cause": refusesCharge,
  "no-fault-found": vague,
  "mechanical-damage": damaged,
  "acute-event": acute,
};
