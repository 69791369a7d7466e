import type { LetterWords } from "./letter";

export const wordsDe: LetterWords = {
  title: "Unsere Entscheidung zur Rücksendung {reference}",
  headings: {
    decision: "Was wir entschieden haben",
    told: "Was Sie uns gesagt haben",
    found: "Was wir gefunden haben",
    cover: "Die Garantie des Herstellers",
    why: "Warum",
    alternatives: "Was wir sonst erwogen haben",
    object: "Wenn Sie anderer Meinung sind",
    rights: "Ihre Rechte",
  },
  decisions: {
    repair: "Wir reparieren den Akku {serial}. Das kostet Sie nichts.",
    replace: "Wir ersetzen den Akku {serial}. Das kostet Sie nichts.",
    refund: "Wir erstatten den Preis des Akkus {serial}.",
    goodwill: "Wir helfen Ihnen beim Akku {serial} aus Kulanz, über die Garantie hinaus.",
    "no-fault-found": "Wir konnten am Akku {serial} keinen Fehler finden und schicken ihn unverändert zurück.",
    refuse: "Im Rahmen der Herstellergarantie können wir beim Akku {serial} nicht helfen.",
    "dispose-safely":
      "Der Akku {serial} ist nicht sicher. Wir schicken ihn nicht zurück und lassen ihn sicher zerlegen.",
  },
  told: "Am {day} haben Sie dem Verkäufer gesagt:",
  foundFaults: "Wir haben den Akku untersucht und gefunden: {faults}.",
  foundNothing: "Ein Fehler des Akkus wurde nicht bestätigt.",
  evidence: "Gesehen oder gemessen wurde:",
  cover: {
    "in-cover": "Ihre Meldung kam innerhalb der Garantiezeit.",
    "in-cover-by-grace": "Ihre Meldung kam kurz nach der Garantiezeit; wir behandeln sie als rechtzeitig.",
    "covered-by-field-action": "Der Akku gehört zu denen, um die wir uns unabhängig vom Alter kümmern.",
    "outside-makers-guarantee": "Ihre Meldung kam nach der Zeit der Herstellergarantie.",
    "cannot-tell-yet": "Ohne den Tag der Übergabe können wir nicht sagen, ob die Garantie noch läuft.",
  },
  coverDates:
    "Die Garantie läuft vom {start} bis zum {end}, beide Tage eingeschlossen. Sie haben es dem Verkäufer am {day} gesagt.",
  reason: "In den Worten der Person, die entschieden hat:",
  term: "In der Garantie steht:",
  alternatives: "Vor der Entscheidung haben wir andere Erklärungen geprüft:",
  object:
    "Sie können bis zum {until} widersprechen. Jemand, der an dieser Entscheidung nicht beteiligt war, prüft sie dann neu. {how}",
  rights:
    "Dieser Brief betrifft die Garantie des Herstellers. Ihre gesetzlichen Rechte gegenüber dem Verkäufer bleiben unberührt und kosten Sie nichts.",
  faults: {
    "weak-cell": "eine schwache Zellgruppe",
    "high-resistance-cell": "eine Zellgruppe mit zu hohem Widerstand",
    "high-resistance-joint": "eine schlecht leitende Verbindung",
    "self-discharge": "eine Zellgruppe, die sich selbst entlädt",
    "sense-wire": "eine gebrochene Messleitung",
    "measurement-fault": "einen Messfehler der Elektronik",
    "power-stage-fault": "einen Fehler am Schalter, der den Strom durchlässt",
    imbalance: "ungleich geladene Zellgruppen",
    "over-discharge": "zu tief entladene Zellen",
    "temperature-sensor": "einen defekten Temperaturfühler",
    "water-ingress": "Wasser im Akku",
    "main-lead": "eine schlecht leitende Hauptleitung oder Steckverbindung",
    "outside-cause": "eine Ursache außerhalb des Akkus",
    "no-fault-found": "keinen Fehler",
    "mechanical-damage": "eine Beschädigung von außen",
    "acute-event": "Zeichen eines gefährlichen Vorgangs",
  },
};
