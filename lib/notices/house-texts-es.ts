import type { HouseNoticeTexts } from "./notice-text";

/** What the maker's own people are told of transport, quarantine, packs held back and looks of an administrator, in Spanish. */
export const houseTextsEs: HouseNoticeTexts = {
  "class-needed": {
    subject: "{reference}: falta una clase de transporte o el permiso de envío",
    paragraphs: [
      "La batería de la devolución {reference} se puede enviar, pero ahora no vale para ella ninguna clase de transporte, o se ha acabado el plazo para enviarla. El distribuidor no envía nada hasta que se declare una clase o se dé de nuevo el permiso de envío.",
      "Por qué, y dónde se hace, está aquí: {link}",
    ],
  },
  "class-proposed": {
    subject: "{reference}: se propone una clase de transporte",
    paragraphs: [
      "Para la batería de la devolución {reference} se propone en el banco una clase de transporte. Con eso no se imprime ni se envía nada hasta que otra persona declare la clase.",
      "Qué se encontró y dónde se declara la clase está aquí: {link}",
    ],
  },
  "quarantine-overdue": {
    subject: "{reference}: demasiado tiempo en cuarentena",
    paragraphs: [
      "La batería de {reference} lleva en su lugar de cuarentena más tiempo del previsto.",
      "Véala hoy y decida adónde va: {link}",
    ],
  },
  "measurement-overdue": {
    subject: "{reference}: una medición en cuarentena está atrasada",
    paragraphs: [
      "La batería de {reference} está en cuarentena y no se midió a tiempo. Nadie sabe si se calienta.",
      "Mírela primero desde lejos, mídala ahora donde sea seguro y anote lo que vea: {link}",
    ],
  },
  "emergency-look": {
    subject: "{reference}: un administrador mira esta devolución",
    paragraphs: [
      "Un administrador, que por lo demás no ve ningún caso, ha abierto la devolución {reference} por poco tiempo y escribió por qué.",
      "El motivo, hasta cuándo y cuándo se miró está aquí: {link}",
    ],
  },
  "set-held-back": {
    subject: "{reference}: sus baterías quedan retenidas",
    paragraphs: [
      "Las baterías de {reference} quedan retenidas desde ahora: ninguna sale como sustitución ni en préstamo, y ninguna vuelve a su cliente antes de que alguien la libere.",
      "Aquí se indica cuáles pertenecen a devoluciones abiertas, están reservadas como sustitución o prestadas a un cliente. Revise la lista ahora: {link}",
    ],
  },
  "stop-opened": {
    subject: "{reference}: estas baterías no deben salir",
    paragraphs: [
      "{reference}: hay un problema abierto por el que ninguna de estas baterías sale, ni como sustituta, ni en préstamo, ni de vuelta a su cliente antes de que alguien la libere.",
      "Los distribuidores que tienen esas baterías están avisados. Mire ahora cuáles están en devoluciones abiertas, reservadas como sustitutas o prestadas: {link}",
    ],
  },
};
