import type { HouseNoticeTexts } from "./notice-text";

/** What the maker's own people are told of transport, quarantine, packs held back and looks of an administrator, in German. */
export const houseTextsDe: HouseNoticeTexts = {
  "class-needed": {
    subject: "{reference}: eine Transportklasse oder die Freigabe zum Verschicken fehlt",
    paragraphs: [
      "Der Akku der Rücksendung {reference} darf verschickt werden, aber zurzeit gilt für ihn keine Transportklasse, oder die Zeit zum Verschicken ist abgelaufen. Der Händler verschickt nichts, bis eine Klasse festgelegt oder er neu zum Verschicken freigegeben ist.",
      "Warum, und wo das geschieht, steht hier: {link}",
    ],
  },
  "class-proposed": {
    subject: "{reference}: eine Transportklasse ist vorgeschlagen",
    paragraphs: [
      "Für den Akku der Rücksendung {reference} ist am Prüfplatz eine Transportklasse vorgeschlagen. Gedruckt oder verschickt wird dadurch nichts, bis eine andere Person die Klasse festlegt.",
      "Was gefunden wurde, und wo die Klasse festgelegt wird, steht hier: {link}",
    ],
  },
  "quarantine-overdue": {
    subject: "{reference}: zu lange in Quarantäne",
    paragraphs: [
      "Der Akku zu {reference} liegt länger an seinem Quarantäneplatz als vorgesehen.",
      "Sehen Sie heute nach ihm und entscheiden Sie, wohin er kommt: {link}",
    ],
  },
  "measurement-overdue": {
    subject: "{reference}: eine Messung in Quarantäne ist überfällig",
    paragraphs: [
      "Der Akku zu {reference} liegt in Quarantäne und wurde nicht rechtzeitig gemessen. Niemand weiß, ob er wärmer wird.",
      "Sehen Sie zuerst aus der Entfernung nach ihm, messen Sie ihn jetzt, wo das gefahrlos geht, und halten Sie fest, was Sie sehen: {link}",
    ],
  },
  "emergency-look": {
    subject: "{reference}: ein Administrator sieht diese Rücksendung ein",
    paragraphs: [
      "Ein Administrator, der sonst keinen Fall sieht, hat die Rücksendung {reference} für kurze Zeit geöffnet und begründet, warum.",
      "Der Grund, bis wann, und wann sie angesehen wurde, steht hier: {link}",
    ],
  },
  "set-held-back": {
    subject: "{reference}: die Akkus werden zurückgehalten",
    paragraphs: [
      "Die Akkus aus {reference} werden von jetzt an zurückgehalten: Keiner geht als Ersatz oder leihweise hinaus, und keiner geht an seinen Kunden zurück, bevor ihn jemand freigibt.",
      "Welche davon zu offenen Rücksendungen gehören, als Ersatz bereitliegen oder an Kunden verliehen sind, steht hier. Gehen Sie die Liste jetzt durch: {link}",
    ],
  },
  "stop-opened": {
    subject: "{reference}: diese Akkus gehen nicht hinaus",
    paragraphs: [
      "{reference}: Ein Mangel ist offen, unter dem keiner dieser Akkus hinausgeht, weder als Ersatz noch leihweise, und nicht zurück an den Kunden, bevor jemand ihn freigibt.",
      "Händler, die solche Akkus haben, sind benachrichtigt. Sehen Sie jetzt nach, welche davon in offenen Rücksendungen liegen, als Ersatz vorgemerkt oder verliehen sind: {link}",
    ],
  },
};
