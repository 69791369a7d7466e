/** What a dealer's hand has to know beside a pack, in Spanish, by the English sentence of the rules or of the sheet. Translated in this house: verify. */
export const saidInSpanish: Readonly<Record<string, string>> = {
  // What says of a translation what it is.
  "This translation was not checked: the English text counts.":
    "Esta traducción no está revisada: vale el texto inglés.",
  "This translation was not checked: the English text on A4 or Letter counts.":
    "Traducción sin revisar: vale el texto inglés en A4 o Letter.",
  // The sheets.
  "DO NOT FLY.": "NO ENVIAR POR AVIÓN.",
  "ROAD OR SEA ONLY.": "SOLO POR CARRETERA O MAR.",
  "NOT BY AIR, POST OR PARCEL": "NI POR AVIÓN, NI POR CORREO, NI POR PAQUETERÍA",
  "Marks that must stand on the package": "Marcas que deben figurar en el bulto",
  "This paper is no mark: put the marks on the package itself.":
    "Esta hoja no es una marca: ponga las marcas en el propio bulto.",
  "Marks on the package": "Marcas en el bulto",
  "Tick before it is handed over": "Marque antes de entregarlo",
  "Packed by, trained until, date, signature": "Embalado por, formación válida hasta, fecha, firma",
  "Do not charge, open or connect it before its page was looked at. Step back if it gets warm, swells, smells or hisses.":
    "No la cargue, abra ni conecte antes de mirar su página. Aléjese si se calienta, se hincha, huele o silba.",
  "In the transport document": "En la carta de porte",
  Besides: "Además",
  "Emergency telephone for this load:": "Teléfono de emergencia para esta carga:",
  "Call the local emergency number first.": "Llame primero al número local de emergencias.",
  "This way crosses two sets of rules": "Este trayecto está sujeto a dos normativas",
  "The rules at the end of this way are not held here": "Las normas del final de este trayecto no constan aquí",
  "A person qualified in dangerous goods decides for every leg of the way by which rules the pack is packed, marked and documented. Until then it does not leave.":
    "Una persona cualificada en mercancías peligrosas decide, para cada tramo del trayecto, según qué normas se embala, se marca y se documenta la batería. Hasta entonces no sale.",
  "A person qualified in dangerous goods has decided for every leg of the way which rules hold, and this package keeps them.":
    "Una persona cualificada en mercancías peligrosas ha decidido qué normas rigen en cada tramo del trayecto, y este bulto las cumple.",
  // The packing checklist.
  "The serial on the pack is the serial on this sheet.":
    "El número de serie de la batería es el número de serie de esta hoja.",
  "One pack, one package, one label: packs of several returns never share a box.":
    "Una batería, un bulto, una etiqueta: las baterías de varias devoluciones nunca comparten caja.",
  "The pack is cool to the hand, does not smell, hiss or swell. If it changes: step back, call the emergency number.":
    "La batería está fría al tacto, no huele, no silba ni se hincha. Si cambia: aléjese y llame a emergencias.",
  "The contacts are covered so that nothing can touch them.":
    "Los contactos están cubiertos de modo que nada pueda tocarlos.",
  "The charge of the pack was left as it is, unless the service desk asked otherwise in writing.":
    "La carga de la batería se dejó como está, salvo que el servicio pidiera otra cosa por escrito.",
  "The packaging is the one named on this sheet, undamaged, closed as its maker says.":
    "El embalaje es el indicado en esta hoja, sin daños y cerrado como indica su fabricante.",
  "The marks named on this sheet stand on the package and can be read; old marks are covered.":
    "Las marcas indicadas en esta hoja están en el bulto y se leen; las marcas antiguas están tapadas.",
  "The packed box was photographed, open and closed.": "La caja embalada se fotografió, abierta y cerrada.",
  "The person who packs and hands over is trained for dangerous goods, and signs here.":
    "Quien embala y entrega tiene formación en mercancías peligrosas y firma aquí.",
  "The carrier takes dangerous goods of class 9 by road, and was told what this is. No post, no parcel counter, no air.":
    "El transportista acepta mercancías peligrosas de la clase 9 por carretera y sabe lo que es. Ni correo, ni mostrador de paquetería, ni avión.",
  // What a dealer is told.
  Do: "Haga esto",
  "Do not": "No haga esto",
  "Keep away and call for help": "Aléjese y pida ayuda",
  "Get everyone away and out of the smoke; its vapour is poisonous and can burn.":
    "Aleje a todos y salgan del humo; sus vapores son venenosos y pueden arder.",
  "Call the emergency number and say it is a large lithium battery.":
    "Llame a emergencias y diga que es una batería de litio grande.",
  "Keep a way out free and warn your neighbours in the building.":
    "Deje libre una salida y avise a los vecinos del edificio.",
  "Only when it is safe: come back to this form; what you have entered is kept.":
    "Solo cuando sea seguro: vuelva a este formulario; lo que ha escrito se conserva.",
  "Follow your local emergency services and rules; they come before anything said here.":
    "Siga a los servicios de emergencia y las normas de su lugar; están por encima de todo lo dicho aquí.",
  "Do not carry or touch it while it is hot, smoking or hissing.":
    "No la lleve ni la toque mientras esté caliente, eche humo o silbe.",
  "Do not shut it into a closed room.": "No la encierre en un cuarto cerrado.",
  "Do not charge, ride, discharge or try to wake it up, not even to test it.":
    "No la cargue, use, descargue ni intente despertarla, ni siquiera para probarla.",
  "Do not open, pierce or press it.": "No la abra, perfore ni apriete.",
  "Do not change its software before the readings are saved.": "No cambie su software antes de guardar las lecturas.",
  "Do not send it by post, parcel or air, and do not pack it, until you are told how.":
    "No la envíe por correo, paquetería ni avión, ni la embale, hasta que le digan cómo.",
  "Set the pack apart now": "Aparte la batería ahora",
  "Unplug it only if you can do so without touching anything wet, hot or damaged.":
    "Desenchúfela solo si puede hacerlo sin tocar nada mojado, caliente o dañado.",
  "Bring it outside, or have it brought: away from buildings, ways out and anything that burns, sheltered from sun and rain.":
    "Llévela al exterior, o haga que la lleven: lejos de edificios, salidas y de todo lo que arde, protegida del sol y de la lluvia.",
  "Keep people away and look at it again and again, for a day at least.":
    "Mantenga a la gente lejos y mírela una y otra vez, al menos durante un día.",
  "If it gets warm, swells, smells or hisses: step back and call the emergency number.":
    "Si se calienta, se hincha, huele o silba: aléjese y llame a emergencias.",
  "See a doctor after a shock, after breathing vapour, or after touching what leaked; rinse with much water first.":
    "Acuda al médico tras una descarga, tras respirar vapores o tras tocar lo que se derramó; aclare antes con mucha agua.",
  "Do not touch what leaks.": "No toque lo que se derrama.",
  "Do not leave it indoors overnight.": "No la deje dentro de un edificio durante la noche.",
  "Leave the pack as it is": "Deje la batería como está",
  "Cover the contacts so that nothing can touch them.": "Cubra los contactos de modo que nada pueda tocarlos.",
  "Photograph the label, the display, the case and the connector.":
    "Fotografíe la etiqueta, la pantalla, la carcasa y el conector.",
  "Keep it at the charge it has, dry, away from heat, where you would notice a change.":
    "Guárdela con la carga que tiene, seca, lejos del calor, donde note un cambio.",
  "If it gets warm, swells, smells or hisses: step back, and call the emergency number.":
    "Si se calienta, se hincha, huele o silba: aléjese y llame a emergencias.",
  // The statement for a used battery.
  "Used battery returned for repair under guarantee": "Batería usada devuelta para reparación en garantía",
  "The used battery named on this sheet is sent back to its manufacturer, or to a third party acting for it, for repair under guarantee with the intention of re-use.":
    "La batería usada indicada en esta hoja se devuelve a su fabricante, o a un tercero que actúa en su nombre, para su reparación en garantía con la intención de reutilizarla.",
  "The shipment takes place under a business-to-business transfer agreement; a copy is enclosed.":
    "El traslado se hace en el marco de un acuerdo de cesión entre empresas; se adjunta una copia.",
  "The holder declares that none of the materials or parts in this consignment is waste as defined in Article 3(1) of Directive 2008/98/EC.":
    "El poseedor declara que ninguno de los materiales o piezas de este envío es residuo según el artículo 3, punto 1, de la Directiva 2008/98/CE.",
  "The battery is protected appropriately against damage during transport, loading and unloading, by sufficient packaging and appropriate stacking of the load.":
    "La batería está protegida adecuadamente contra daños durante el transporte, la carga y la descarga, con embalaje suficiente y un apilamiento adecuado de la carga.",
  "The load is accompanied by its transport document and by a declaration of the person who arranges the shipment on its responsibility.":
    "La carga va acompañada de su documento de transporte y de una declaración de responsabilidad de la persona que organiza el traslado.",
  "Copy of the business-to-business transfer agreement": "Copia del acuerdo de cesión entre empresas",
  "Transport document (for road: CMR waybill)": "Documento de transporte (por carretera: carta de porte CMR)",
};
