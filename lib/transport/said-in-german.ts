/** What a dealer's hand has to know beside a pack, in German, by the English sentence of the rules or of the sheet. Translated in this house: verify. */
export const saidInGerman: Readonly<Record<string, string>> = {
  // What says of a translation what it is.
  "This translation was not checked: the English text counts.":
    "Diese Übersetzung ist ungeprüft: Es gilt der englische Wortlaut.",
  "This translation was not checked: the English text on A4 or Letter counts.":
    "Übersetzung ungeprüft: Es gilt der englische Wortlaut auf A4 oder Letter.",
  // The sheets.
  "DO NOT FLY.": "NICHT PER LUFTFRACHT.",
  "ROAD OR SEA ONLY.": "NUR STRASSE ODER SEE.",
  "NOT BY AIR, POST OR PARCEL": "NICHT PER LUFT, POST ODER PAKET",
  "Marks that must stand on the package": "Kennzeichen, die auf dem Packstück stehen müssen",
  "This paper is no mark: put the marks on the package itself.":
    "Dieses Blatt ist kein Kennzeichen: Bringen Sie die Kennzeichen auf dem Packstück selbst an.",
  "Marks on the package": "Kennzeichen auf dem Packstück",
  "Tick before it is handed over": "Vor der Übergabe abhaken",
  "Packed by, trained until, date, signature": "Verpackt von, geschult bis, Datum, Unterschrift",
  "Do not charge, open or connect it before its page was looked at. Step back if it gets warm, swells, smells or hisses.":
    "Nicht laden, öffnen oder anschließen, bevor seine Seite angesehen wurde. Zurücktreten, wenn er warm wird, sich aufbläht, riecht oder zischt.",
  "In the transport document": "Im Beförderungspapier",
  Besides: "Außerdem",
  "Emergency telephone for this load:": "Notfalltelefon für diese Ladung:",
  "Call the local emergency number first.": "Zuerst den örtlichen Notruf wählen.",
  "This way crosses two sets of rules": "Auf diesem Weg gelten zweierlei Vorschriften",
  "The rules at the end of this way are not held here":
    "Die Vorschriften am Ende dieses Weges sind hier nicht hinterlegt",
  "A person qualified in dangerous goods decides for every leg of the way by which rules the pack is packed, marked and documented. Until then it does not leave.":
    "Wer für Gefahrgut qualifiziert ist, entscheidet für jeden Abschnitt des Weges, nach welchen Vorschriften der Akku verpackt, gekennzeichnet und in Papieren genannt wird. Bis dahin geht er nicht auf den Weg.",
  "A person qualified in dangerous goods has decided for every leg of the way which rules hold, and this package keeps them.":
    "Wer für Gefahrgut qualifiziert ist, hat für jeden Abschnitt des Weges entschieden, welche Vorschriften gelten, und dieses Packstück hält sie ein.",
  // The packing checklist.
  "The serial on the pack is the serial on this sheet.":
    "Die Seriennummer auf dem Akku ist die Seriennummer auf diesem Blatt.",
  "One pack, one package, one label: packs of several returns never share a box.":
    "Ein Akku, ein Packstück, ein Etikett: Akkus mehrerer Rücksendungen kommen nie in einen Karton.",
  "The pack is cool to the hand, does not smell, hiss or swell. If it changes: step back, call the emergency number.":
    "Der Akku fühlt sich kühl an, riecht nicht, zischt nicht und bläht sich nicht auf. Wenn sich das ändert: zurücktreten, Notruf wählen.",
  "The contacts are covered so that nothing can touch them.":
    "Die Kontakte sind so abgedeckt, dass nichts sie berühren kann.",
  "The charge of the pack was left as it is, unless the service desk asked otherwise in writing.":
    "Der Ladestand wurde gelassen, wie er ist, außer der Servicetisch hat schriftlich um etwas anderes gebeten.",
  "The packaging is the one named on this sheet, undamaged, closed as its maker says.":
    "Die Verpackung ist die auf diesem Blatt genannte, unbeschädigt und verschlossen, wie ihr Hersteller es vorgibt.",
  "The marks named on this sheet stand on the package and can be read; old marks are covered.":
    "Die auf diesem Blatt genannten Kennzeichen stehen lesbar auf dem Packstück; alte Kennzeichen sind abgedeckt.",
  "The packed box was photographed, open and closed.": "Der gepackte Karton wurde fotografiert, offen und geschlossen.",
  "The person who packs and hands over is trained for dangerous goods, and signs here.":
    "Wer verpackt und übergibt, ist für gefährliche Güter geschult und unterschreibt hier.",
  "The carrier takes dangerous goods of class 9 by road, and was told what this is. No post, no parcel counter, no air.":
    "Der Beförderer nimmt gefährliche Güter der Klasse 9 auf der Straße an und weiß, was dies ist. Keine Post, kein Paketschalter, keine Luftfracht.",
  // What a dealer is told.
  Do: "Tun Sie das",
  "Do not": "Tun Sie das nicht",
  "Keep away and call for help": "Abstand halten und Hilfe rufen",
  "Get everyone away and out of the smoke; its vapour is poisonous and can burn.":
    "Alle weg und aus dem Rauch; die Dämpfe sind giftig und können brennen.",
  "Call the emergency number and say it is a large lithium battery.":
    "Notruf wählen und sagen, dass es ein großer Lithium-Akku ist.",
  "Keep a way out free and warn your neighbours in the building.":
    "Einen Fluchtweg frei halten und die Nachbarn im Gebäude warnen.",
  "Only when it is safe: come back to this form; what you have entered is kept.":
    "Erst wenn es sicher ist: zu diesem Formular zurückkehren; was Sie eingegeben haben, bleibt erhalten.",
  "Follow your local emergency services and rules; they come before anything said here.":
    "Folgen Sie den örtlichen Einsatzkräften und Vorschriften; sie gehen allem vor, was hier steht.",
  "Do not carry or touch it while it is hot, smoking or hissing.":
    "Nicht tragen oder anfassen, solange er heiß ist, raucht oder zischt.",
  "Do not shut it into a closed room.": "Nicht in einen geschlossenen Raum einsperren.",
  "Do not charge, ride, discharge or try to wake it up, not even to test it.":
    "Nicht laden, fahren, entladen oder zu wecken versuchen, auch nicht zur Probe.",
  "Do not open, pierce or press it.": "Nicht öffnen, anstechen oder drücken.",
  "Do not change its software before the readings are saved.":
    "Die Software nicht ändern, bevor die Messwerte gesichert sind.",
  "Do not send it by post, parcel or air, and do not pack it, until you are told how.":
    "Nicht per Post, Paket oder Luftfracht senden und nicht verpacken, bis man Ihnen sagt, wie.",
  "Set the pack apart now": "Den Akku jetzt absondern",
  "Unplug it only if you can do so without touching anything wet, hot or damaged.":
    "Nur abstecken, wenn Sie dabei nichts Nasses, Heißes oder Beschädigtes berühren.",
  "Bring it outside, or have it brought: away from buildings, ways out and anything that burns, sheltered from sun and rain.":
    "Ins Freie bringen oder bringen lassen: weg von Gebäuden, Ausgängen und allem, was brennt, geschützt vor Sonne und Regen.",
  "Keep people away and look at it again and again, for a day at least.":
    "Menschen fernhalten und immer wieder nachsehen, mindestens einen Tag lang.",
  "If it gets warm, swells, smells or hisses: step back and call the emergency number.":
    "Wenn er warm wird, sich aufbläht, riecht oder zischt: zurücktreten und Notruf wählen.",
  "See a doctor after a shock, after breathing vapour, or after touching what leaked; rinse with much water first.":
    "Nach einem Stromschlag, nach dem Einatmen von Dämpfen oder nach Berührung von Ausgelaufenem zum Arzt; zuerst mit viel Wasser spülen.",
  "Do not touch what leaks.": "Nicht berühren, was ausläuft.",
  "Do not leave it indoors overnight.": "Nicht über Nacht in einem Gebäude lassen.",
  "Leave the pack as it is": "Den Akku lassen, wie er ist",
  "Cover the contacts so that nothing can touch them.": "Die Kontakte so abdecken, dass nichts sie berühren kann.",
  "Photograph the label, the display, the case and the connector.":
    "Etikett, Anzeige, Gehäuse und Stecker fotografieren.",
  "Keep it at the charge it has, dry, away from heat, where you would notice a change.":
    "Beim jetzigen Ladestand, trocken und fern von Wärme aufbewahren, wo Sie eine Veränderung bemerken.",
  "If it gets warm, swells, smells or hisses: step back, and call the emergency number.":
    "Wenn er warm wird, sich aufbläht, riecht oder zischt: zurücktreten und Notruf wählen.",
  // The statement for a used battery.
  "Used battery returned for repair under guarantee": "Gebrauchte Batterie, zur Reparatur unter Garantie zurückgesandt",
  "The used battery named on this sheet is sent back to its manufacturer, or to a third party acting for it, for repair under guarantee with the intention of re-use.":
    "Die auf diesem Blatt genannte gebrauchte Batterie wird ihrem Hersteller oder einem in seinem Namen handelnden Dritten zur Reparatur unter Garantie mit der Absicht der Wiederverwendung zurückgesandt.",
  "The shipment takes place under a business-to-business transfer agreement; a copy is enclosed.":
    "Die Verbringung erfolgt im Rahmen einer Überlassungsvereinbarung zwischen Unternehmen; eine Kopie liegt bei.",
  "The holder declares that none of the materials or parts in this consignment is waste as defined in Article 3(1) of Directive 2008/98/EC.":
    "Der Besitzer erklärt, dass keines der Materialien oder Teile in dieser Sendung Abfall im Sinne von Artikel 3 Nummer 1 der Richtlinie 2008/98/EG ist.",
  "The battery is protected appropriately against damage during transport, loading and unloading, by sufficient packaging and appropriate stacking of the load.":
    "Die Batterie ist bei Beförderung, Verladen und Entladen durch ausreichende Verpackung und geeignetes Stapeln der Ladung angemessen vor Beschädigung geschützt.",
  "The load is accompanied by its transport document and by a declaration of the person who arranges the shipment on its responsibility.":
    "Die Ladung wird vom Beförderungsdokument und von einer Erklärung der Person begleitet, die die Verbringung veranlasst, über ihre Verantwortung.",
  "Copy of the business-to-business transfer agreement": "Kopie der Überlassungsvereinbarung zwischen Unternehmen",
  "Transport document (for road: CMR waybill)": "Beförderungsdokument (Straße: CMR-Frachtbrief)",
};
