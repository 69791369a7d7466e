import { houseTextsDe } from "./house-texts-de";
import type { NoticeLanguageText } from "./notice-text";

export const textsDe: NoticeLanguageText = {
  signedBy:
    "Diese Nachricht kommt von der Rücknahmestelle des Herstellers. Die Einzelheiten stehen hinter dem Link, nach der Anmeldung.",
  months: [
    "Januar",
    "Februar",
    "März",
    "April",
    "Mai",
    "Juni",
    "Juli",
    "August",
    "September",
    "Oktober",
    "November",
    "Dezember",
  ],
  day: "{day}. {month} {year}",
  notices: {
    ...houseTextsDe,
    received: {
      subject: "{reference}: eingegangen",
      paragraphs: [
        "Die Rücksendung {reference} ist bei uns eingegangen.",
        "Was mit dem Akku zu tun ist und was nicht, steht hier: {link}",
      ],
    },
    question: {
      subject: "{reference}: eine Frage an Sie",
      paragraphs: [
        "Wir haben eine Frage zur Rücksendung {reference}. Bitte antworten Sie bis zum {until}.",
        "Die Frage steht hier: {link}",
      ],
    },
    approved: {
      subject: "{reference}: freigegeben",
      paragraphs: [
        "Zur Rücksendung {reference} darf ein Akku an uns verschickt werden. Die Freigabe gilt bis zum {until}.",
        "Verschicken Sie ihn erst, wenn Sie gelesen haben, welcher Akku es ist und wie er zu verpacken und zu kennzeichnen ist: {link}",
      ],
    },
    "expiry-reminder": {
      subject: "{reference}: die Freigabe endet bald",
      paragraphs: [
        "Die Freigabe der Rücksendung {reference} endet am {until}, und der Akku ist noch nicht angekommen.",
        "Ist er unterwegs, sagen Sie es uns hier. Bleibt er bei Ihnen, sagen Sie uns warum: {link}",
      ],
    },
    "approval-ended": {
      subject: "{reference}: die Freigabe ist abgelaufen",
      paragraphs: [
        "Die Freigabe der Rücksendung {reference} ist abgelaufen, und der Akku wurde nicht verschickt. Verschicken Sie ihn jetzt nicht mehr.",
        "Wollen Sie ihn noch verschicken, bitten Sie den Service um eine neue Freigabe: {link}",
      ],
    },
    "pack-received": {
      subject: "{reference}: der Akku ist angekommen",
      paragraphs: [
        "Der Akku der Rücksendung {reference} ist bei uns angekommen und wird untersucht.",
        "Wie es steht, sehen Sie hier: {link}",
      ],
    },
    "wrong-pack-came": {
      subject: "{reference}: ein anderer Akku ist angekommen",
      paragraphs: [
        "In der Sendung zur Rücksendung {reference} lag ein anderer Akku als der, um den es geht. Er bleibt bei uns.",
        "Liegt der richtige noch bei Ihnen, verschicken Sie ihn noch nicht: Er braucht eine eigene Transporteinstufung, ein eigenes Etikett und eine eigene Verpackung. Wann es so weit ist, steht auf der Seite. Ist er schon unterwegs, ist nichts zu tun: {link}",
      ],
    },
    collected: {
      subject: "{reference}: eine Fachfirma hat den Akku abgeholt",
      paragraphs: [
        "Der Hersteller hat festgehalten, dass eine Fachfirma für gefährliche Akkus den Akku der Rücksendung {reference} abgeholt hat. Ist er noch bei Ihnen, lassen Sie ihn, wo er ist, halten Sie Menschen fern und sagen Sie uns sofort Bescheid.",
        "Die Rücksendung bleibt offen. Was aus ihr wird, steht hier: {link}",
      ],
    },
    "wait-to-send": {
      subject: "{reference}: Akku noch nicht verschicken",
      paragraphs: [
        "Seit Sie gelesen haben, wie der Akku der Rücksendung {reference} zu verschicken ist, ist mehr über ihn bekannt geworden, die Transportregeln haben sich geändert, oder die Zeit zum Verschicken ist abgelaufen. Geben Sie ihn jetzt niemandem zum Transport, was auch auf Etikett und Verpackung steht, bis Sie Bescheid bekommen.",
        "Sie erfahren, wann er verschickt werden darf. Wie es steht, sehen Sie hier: {link}",
      ],
    },
    decided: {
      subject: "{reference}: entschieden",
      paragraphs: [
        "Über die Rücksendung {reference} ist entschieden. Die Entscheidung mit ihren Gründen, und wie Sie ihr widersprechen, steht hier: {link}",
        "Gesetzliche Rechte gegenüber dem Verkäufer bleiben davon unberührt.",
      ],
    },
    "sent-back": {
      subject: "{reference}: fertig, geht an Sie zurück",
      paragraphs: [
        "Der Akku der Rücksendung {reference} oder sein Ersatz ist fertig und geht an Sie zurück.",
        "Vergleichen Sie bei der Ankunft die Seriennummer und bestätigen Sie sie hier: {link}",
      ],
    },
    "carried-out": {
      subject: "{reference}: ausgeführt",
      paragraphs: [
        "Die Entscheidung über die Rücksendung {reference} ist ausgeführt. Es kommt damit kein Akku zu Ihnen.",
        "Was entschieden wurde und was noch zu tun ist, steht hier: {link}",
      ],
    },
    credited: {
      subject: "{reference}: gutgeschrieben",
      paragraphs: [
        "Ein Betrag für die Rücksendung {reference} steht in Ihrer Abrechnung, Zeile für Zeile mit den Gründen: {link}",
      ],
    },
    safety: {
      subject: "{reference}: Sicherheitshinweis, bitte sofort lesen",
      paragraphs: [
        "Dies ist ein Sicherheitshinweis zu {reference}. Bitte lesen Sie ihn sofort: {link}",
        "Ist ein Akku heiß, raucht er, ist er aufgebläht, undicht oder riecht er, bringen Sie zuerst Menschen weg und rufen Sie die Feuerwehr.",
        "Vielleicht müssen auch Sie selbst eine Behörde benachrichtigen. Fragen Sie sofort Ihre Beratung.",
      ],
    },
    "danger-raised": {
      subject: "{reference}: Gefahr gemeldet, jetzt ansehen",
      paragraphs: [
        "Zum Akku von {reference} wurde eine Gefahr gemeldet oder gesehen. Was gesagt wurde, steht hier: {link}",
        "Rufen Sie zuerst an, wo der Akku liegt. Geschieht es gerade, geht die Feuerwehr vor.",
      ],
    },
    "lapse-proposed": {
      subject: "{reference}: es kam keine Antwort",
      paragraphs: [
        "Der Händler hat die Frage zu {reference} nicht beantwortet und wurde so oft erinnert wie eingestellt.",
        "Verfallen lassen oder noch einmal fragen: {link}",
      ],
    },
    "own-held-back": {
      subject: "{reference}: Akkus bei Ihnen werden zurückgehalten",
      paragraphs: [
        "Akkus, die Sie haben, gehören zu {reference}. Der Hersteller hält sie zurück, weil sie denselben Fehler haben können: Verkaufen, verleihen und übergeben Sie keinen davon.",
        "Fährt ein Kunde einen davon leihweise, sagen Sie es ihm heute und nehmen Sie den Akku zurück. Welche Akkus es sind, steht hier: {link}",
      ],
    },
    "early-signal": {
      subject: "{reference}: frühes Zeichen gehäufter Ausfälle",
      paragraphs: [
        "{reference}: Es sind mehr Ausfälle bestätigt, als vergleichbare Akkus im gleichen Alter hatten, zum ersten Mal nach allem, was am Ende des {until} bekannt war. Das kann noch Zufall sein.",
        "Es geht um {signals}.",
        "Sehen Sie jetzt nach, was diese Akkus gemeinsam haben, wo sie sind und ob noch nicht verkaufte warten müssen: {link}",
      ],
    },
    "incident-call": {
      subject: "{reference}: Vorfall, bitte sofort bestätigen",
      paragraphs: [
        "Der Sicherheitsvorfall {reference} ist offen, und niemand hat ihn bestätigt. Bestätigen Sie ihn hier: {link}",
        "Vielleicht laufen Meldefristen. Sie werden wieder gerufen, bis eine benannte Person bestätigt.",
        "Wurde er schon bestätigt, wartet eine Frist auf eine Entscheidung: Die Hälfte ihrer Zeit oder die ganze ist vorbei, oder der Tag, bis zu dem weiter untersucht werden sollte. Bestätigen entscheidet nichts.",
      ],
    },
    "question-overdue": {
      subject: "{reference}: Ihre Antwort fehlt",
      paragraphs: [
        "Wir haben zur Rücksendung {reference} etwas gefragt und um Antwort bis zum {until} gebeten. Dieser Tag ist vorbei. Bitte antworten Sie jetzt.",
        "Die Frage steht hier: {link}",
      ],
    },
    help: {
      subject: "{reference}: vielleicht bei Ihnen zu beheben",
      paragraphs: [
        "Die Rücksendung {reference} lässt sich vielleicht beheben, ohne den Akku zu verschicken. Sie sind am Zug, was zu versuchen ist, steht hier: {link}",
        "Versuchen Sie nichts an einem Akku, der heiß, aufgebläht oder undicht ist, raucht oder riecht. Bringen Sie Menschen weg und rufen Sie die Feuerwehr.",
      ],
    },
    solved: {
      subject: "{reference}: ohne Versand behoben",
      paragraphs: [
        "Die Rücksendung {reference} ist abgeschlossen, weil sie ohne Versand des Akkus behoben wurde.",
        "Kommt der Fehler wieder, sagen Sie es rechtzeitig hier: {link}",
      ],
    },
    lapsed: {
      subject: "{reference}: verfallen",
      paragraphs: [
        "Auf unsere Frage zur Rücksendung {reference} kam keine Antwort, deshalb ist sie verfallen. Verschicken Sie den Akku nicht.",
        "Braucht der Akku noch Hilfe, beantworten Sie die Frage dort, und die Rücksendung geht weiter: {link}",
      ],
    },
    merged: {
      subject: "{reference}: mit einer anderen Rücksendung verbunden",
      paragraphs: [
        "Die Rücksendung {reference} wurde mit einer anderen zum selben Fehler verbunden, die weiterläuft. Gelöscht wurde nichts.",
        "Wie es damit steht, sehen Sie hier: {link}",
      ],
    },
    "old-pack": {
      subject: "{reference}: was mit dem alten Akku geschieht",
      paragraphs: [
        "Der alte Akku der Rücksendung {reference} liegt noch bei Ihnen. Bis {until} soll er auf dem Weg sein, wie es auf der Seite der Rücksendung steht.",
        "Lassen Sie ihn bis dahin, wie er ist: nicht laden, benutzen, öffnen oder verpacken. Versenden Sie nichts, bevor eine Transportklasse festgelegt ist; örtliche Regeln und geschulte Personen gehen vor.",
        "Wie es steht, sehen Sie hier: {link}",
      ],
    },
    "comes-back": {
      subject: "{reference}: etwas soll zurückkommen",
      paragraphs: [
        "Zur Rücksendung {reference} hat der Kunde schon etwas bekommen. Davon soll bis {until} etwas zurückkommen; was und wie, steht auf der Seite der Rücksendung.",
        "Ist es ein Akku, legen Sie zuerst eine Rücksendung für ihn an. Versenden Sie nichts, bevor eine Transportklasse festgelegt ist; örtliche Regeln und geschulte Personen gehen vor.",
        "Wie es steht, sehen Sie hier: {link}",
      ],
    },
    "comes-back-overdue": {
      subject: "{reference}: nicht rechtzeitig zurückgekommen",
      paragraphs: [
        "Was zur Rücksendung {reference} bis {until} zurückkommen sollte, ist nicht als zurück vermerkt. Die Rücksendung bleibt offen, bis es da ist oder jemand schreibt, warum nichts mehr erwartet wird.",
        "Wie es steht, sehen Sie hier: {link}",
      ],
    },
    "refund-to-pay": {
      subject: "{reference}: eine Erstattung ist zu zahlen",
      paragraphs: [
        "Mit dem Kunden der Rücksendung {reference} wurde eine Erstattung vereinbart. In manchen Ländern setzt das Gesetz von diesem Tag an eine Frist für die Zahlung.",
        "Der Betrag, und wo die Zahlung eingetragen wird, steht hier: {link}",
      ],
    },
    "second-needed": {
      subject: "{reference}: eine zweite Person muss zustimmen",
      paragraphs: [
        "Die Entscheidung, die zur Rücksendung {reference} vorgeschlagen ist, hat die erste Zustimmung und wartet auf eine zweite Person. Bis dahin geschieht mit dem Akku nichts.",
        "Was vorgeschlagen ist, und warum zwei zustimmen müssen, steht hier: {link}",
      ],
    },
    "your-turn": {
      subject: "{reference}: hier sind Sie am Zug",
      paragraphs: [
        "Die Rücksendung {reference} wartet seit dem {until} auf Sie. Bestätigen Sie den Empfang, wenn Sie den Akku haben, oder sagen Sie, ob die Hilfe geholfen hat.",
        "Was zu tun ist, steht hier: {link}",
      ],
    },
    objected: {
      subject: "{reference}: neu anzusehen",
      paragraphs: [
        "Der Händler widerspricht der Entscheidung über {reference}, oder was aus der Ferne behoben wurde, hielt nicht.",
        "Jetzt sieht jemand darauf, der diese Entscheidung nicht vorgeschlagen hat: {link}",
      ],
    },
    "cover-anew": {
      subject: "{reference}: Garantie neu beantwortet",
      paragraphs: [
        "Zu {reference} wurde ein Kaufbeleg gelesen oder unter mehreren widersprüchlichen einer gewählt, und die Frage nach der Garantie ist nach dem Tag darauf neu beantwortet.",
        "Die neue Antwort, worauf sie beruht und die vorige stehen hier: {link}",
      ],
    },
    "readings-came": {
      subject: "{reference}: Messwerte gekommen",
      paragraphs: [
        "Der Händler hat zu {reference} Messwerte nachgereicht. Sie gelten ab jetzt; die früheren bleiben daneben stehen.",
        "Was sie zeigen und nahelegen, steht hier: {link}",
      ],
    },
    "proof-sent": {
      subject: "{reference}: ein Kaufbeleg ist zu lesen",
      paragraphs: [
        "Der Händler hat zu {reference} ein Foto eines Kaufbelegs geschickt. Bis es jemand am Servicetisch gelesen hat, gilt der Kauftag als angegeben.",
        "Foto und Formular stehen hier: {link}",
      ],
    },
    invitation: {
      subject: "{reference}: Ihr Zugang zur Rücksendestelle",
      paragraphs: [
        "Für {reference} wurde ein Zugang eröffnet. Setzen Sie Ihr Kennwort mit diesem Link, einmal, bis zum {until}: {link}",
        "Geben Sie den Link niemandem. Haben Sie diesen Brief nicht erwartet, lassen Sie ihn ungenutzt.",
      ],
    },
  },
};
