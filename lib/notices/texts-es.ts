import { houseTextsEs } from "./house-texts-es";
import type { NoticeLanguageText } from "./notice-text";

export const textsEs: NoticeLanguageText = {
  signedBy:
    "Este mensaje lo envía el servicio de devoluciones del fabricante. Los detalles están detrás del enlace, después de iniciar sesión.",
  months: [
    "enero",
    "febrero",
    "marzo",
    "abril",
    "mayo",
    "junio",
    "julio",
    "agosto",
    "septiembre",
    "octubre",
    "noviembre",
    "diciembre",
  ],
  day: "{day} de {month} de {year}",
  notices: {
    ...houseTextsEs,
    received: {
      subject: "{reference}: recibida",
      paragraphs: [
        "Hemos recibido la devolución {reference}.",
        "Qué hacer con la batería, y qué no hacer, está aquí: {link}",
      ],
    },
    question: {
      subject: "{reference}: una pregunta para usted",
      paragraphs: [
        "Tenemos una pregunta sobre la devolución {reference}. Por favor, respóndala antes del final del {until}.",
        "La pregunta está aquí: {link}",
      ],
    },
    approved: {
      subject: "{reference}: aprobada",
      paragraphs: [
        "En la devolución {reference} se puede enviarnos una batería. La aprobación vale hasta el {until}.",
        "No la envíe antes de leer de qué batería se trata y cómo hay que embalarla y marcarla: {link}",
      ],
    },
    "expiry-reminder": {
      subject: "{reference}: la aprobación termina pronto",
      paragraphs: [
        "La aprobación de la devolución {reference} termina el {until}, y la batería todavía no ha llegado.",
        "Si está en camino, díganoslo aquí. Si se queda con usted, díganos por qué: {link}",
      ],
    },
    "approval-ended": {
      subject: "{reference}: la autorización ha terminado",
      paragraphs: [
        "La autorización de la devolución {reference} ha terminado y la batería no se ha enviado. No la envíe ahora.",
        "Si todavía quiere enviarla, pida al servicio que la renueve: {link}",
      ],
    },
    "pack-received": {
      subject: "{reference}: la batería ha llegado",
      paragraphs: [
        "La batería de la devolución {reference} ha llegado y la estamos examinando.",
        "Aquí se ve en qué punto está: {link}",
      ],
    },
    "wrong-pack-came": {
      subject: "{reference}: ha llegado otra batería",
      paragraphs: [
        "En la caja de la devolución {reference} había una batería distinta de la que se trata. Esa batería se queda con nosotros.",
        "Si la batería correcta sigue con usted, no la envíe todavía: necesita su propia clase de transporte, su propia etiqueta y su propio embalaje. La página dice cuándo están listos. Si ya está en camino, no hay que hacer nada: {link}",
      ],
    },
    collected: {
      subject: "{reference}: una empresa especializada recogió la batería",
      paragraphs: [
        "El fabricante anotó que una empresa especializada en baterías peligrosas recogió la batería de la devolución {reference}. Si sigue con usted, déjela donde está, no deje acercarse a nadie y avísenos enseguida.",
        "La devolución sigue abierta. Aquí se ve en qué queda: {link}",
      ],
    },
    "wait-to-send": {
      subject: "{reference}: no envíe la batería todavía",
      paragraphs: [
        "Desde que leyó cómo enviar la batería de la devolución {reference} se sabe más de ella, han cambiado las normas de transporte o se ha acabado el plazo para enviarla. No la entregue ahora a ningún transportista, digan lo que digan la etiqueta y el embalaje, hasta que le avisemos.",
        "Le avisaremos cuando se pueda enviar. Aquí se ve en qué punto está: {link}",
      ],
    },
    decided: {
      subject: "{reference}: decidida",
      paragraphs: [
        "Hemos decidido sobre la devolución {reference}. La decisión con sus razones, y cómo oponerse a ella, está aquí: {link}",
        "Los derechos legales frente al vendedor no se ven afectados.",
      ],
    },
    "sent-back": {
      subject: "{reference}: lista, vuelve a usted",
      paragraphs: [
        "La batería de la devolución {reference}, o la que la sustituye, está lista y vuelve a usted.",
        "Compare el número de serie cuando llegue y confírmelo aquí: {link}",
      ],
    },
    "carried-out": {
      subject: "{reference}: cumplida",
      paragraphs: [
        "La decisión sobre la devolución {reference} está cumplida. Con ella no le llega ninguna batería.",
        "Qué se decidió y qué queda por hacer está aquí: {link}",
      ],
    },
    credited: {
      subject: "{reference}: abonada",
      paragraphs: [
        "Un importe por la devolución {reference} está en su liquidación, línea por línea con las razones: {link}",
      ],
    },
    safety: {
      subject: "{reference}: aviso de seguridad, léalo ahora",
      paragraphs: [
        "Este es un aviso de seguridad sobre {reference}. Léalo ahora: {link}",
        "Si una batería está caliente, echa humo, está hinchada, pierde líquido o huele, aleje primero a las personas y llame a los bomberos.",
        "Puede que usted también tenga el deber de avisar a una autoridad. Consulte a su asesor enseguida.",
      ],
    },
    "danger-raised": {
      subject: "{reference}: aviso de peligro, mírelo ahora",
      paragraphs: [
        "Alguien ha avisado de un peligro, o lo ha visto, en la batería de {reference}. Lo que se dijo está aquí: {link}",
        "Llame primero a quien tiene la batería. Si está ocurriendo ahora, los bomberos van primero.",
      ],
    },
    "lapse-proposed": {
      subject: "{reference}: no llegó respuesta",
      paragraphs: [
        "El distribuidor no ha respondido a la pregunta sobre {reference} y se le recordó tantas veces como está fijado.",
        "Dejarla caducar o preguntar otra vez: {link}",
      ],
    },
    "own-held-back": {
      subject: "{reference}: hay baterías retenidas en su taller",
      paragraphs: [
        "Algunas baterías que usted tiene pertenecen a {reference}. El fabricante las retiene porque pueden tener el mismo defecto: no venda, preste ni entregue ninguna.",
        "Si un cliente usa una en préstamo, avísele hoy y retírela. Aquí se ve cuáles son: {link}",
      ],
    },
    "early-signal": {
      subject: "{reference}: señal temprana de fallos",
      paragraphs: [
        "{reference}: hay más fallos confirmados de los que tuvieron baterías comparables a la misma edad, por primera vez con todo lo que se sabía al final del {until}. Aún puede ser casualidad.",
        "Se trata de {signals}.",
        "Mire ahora qué tienen en común estas baterías, dónde están y si las que aún no se han vendido deben esperar: {link}",
      ],
    },
    "incident-call": {
      subject: "{reference}: incidente, confírmelo ahora",
      paragraphs: [
        "El incidente de seguridad {reference} está abierto y nadie lo ha confirmado. Confírmelo aquí: {link}",
        "Puede que corran plazos de aviso. Se le llamará de nuevo hasta que confirme una persona con nombre.",
        "Si ya se confirmó antes, un plazo espera una decisión: ha pasado la mitad de su tiempo o todo, o el día hasta el que se iba a investigar más. Confirmar no decide nada.",
      ],
    },
    "question-overdue": {
      subject: "{reference}: falta su respuesta",
      paragraphs: [
        "Le hicimos una pregunta sobre la devolución {reference} y pedimos respuesta hasta el {until}. Ese día ha pasado. Responda ahora, por favor.",
        "La pregunta está aquí: {link}",
      ],
    },
    help: {
      subject: "{reference}: quizá se arregle en su mostrador",
      paragraphs: [
        "La devolución {reference} quizá se arregle sin enviar la batería. Le toca a usted, y qué probar está aquí: {link}",
        "No pruebe nada con una batería caliente, hinchada, que eche humo, pierda líquido o huela. Aleje a las personas y llame a los bomberos.",
      ],
    },
    solved: {
      subject: "{reference}: resuelta sin envío",
      paragraphs: [
        "La devolución {reference} está cerrada, porque se resolvió sin enviar la batería.",
        "Si el problema vuelve, dígalo a tiempo aquí: {link}",
      ],
    },
    lapsed: {
      subject: "{reference}: caducada",
      paragraphs: [
        "No llegó respuesta a nuestra pregunta sobre la devolución {reference}, así que ha caducado. No envíe la batería.",
        "Si la batería todavía necesita ayuda, responda allí a la pregunta y la devolución seguirá adelante: {link}",
      ],
    },
    merged: {
      subject: "{reference}: unida a otra devolución",
      paragraphs: [
        "La devolución {reference} se unió a otra sobre el mismo problema, que sigue adelante. No se ha borrado nada.",
        "Aquí se ve en qué punto está: {link}",
      ],
    },
    "old-pack": {
      subject: "{reference}: qué pasa con la batería antigua",
      paragraphs: [
        "La batería antigua de la devolución {reference} sigue en su taller. Antes del {until} debe estar en camino, como dice la página de la devolución.",
        "Hasta entonces déjela como está: no la cargue, use, abra ni embale. No envíe nada antes de que se declare una clase de transporte; las normas locales y las personas formadas van primero.",
        "Aquí se ve en qué punto está: {link}",
      ],
    },
    "comes-back": {
      subject: "{reference}: algo debe volver",
      paragraphs: [
        "En la devolución {reference} el cliente ya había recibido algo. De ello debe volver algo antes del {until}; qué y cómo está en la página de la devolución.",
        "Si es una batería, registre primero una devolución para ella. No envíe nada antes de que se declare una clase de transporte; las normas locales y las personas formadas van primero.",
        "Aquí se ve en qué punto está: {link}",
      ],
    },
    "comes-back-overdue": {
      subject: "{reference}: no ha vuelto a tiempo",
      paragraphs: [
        "Lo que debía volver en la devolución {reference} antes del {until} no consta como devuelto. La devolución sigue abierta hasta que llegue o hasta que alguien escriba por qué ya no se espera nada.",
        "Aquí se ve en qué punto está: {link}",
      ],
    },
    "refund-to-pay": {
      subject: "{reference}: hay que pagar un reembolso",
      paragraphs: [
        "Se acordó un reembolso con el cliente de la devolución {reference}. En algunos países la ley fija un plazo de días para pagarlo desde ese día.",
        "El importe, y dónde se anota el pago, está aquí: {link}",
      ],
    },
    "second-needed": {
      subject: "{reference}: tiene que aprobarlo una segunda persona",
      paragraphs: [
        "La decisión propuesta en la devolución {reference} tiene la primera aprobación y espera a una segunda persona. Hasta entonces no se hace nada con la batería.",
        "Qué se propone y por qué tienen que aprobarlo dos está aquí: {link}",
      ],
    },
    "your-turn": {
      subject: "{reference}: le toca a usted",
      paragraphs: [
        "La devolución {reference} le espera desde el {until}. Confirme la recepción si tiene la batería, o diga si la ayuda lo resolvió.",
        "Lo que hay que hacer está aquí: {link}",
      ],
    },
    objected: {
      subject: "{reference}: hay que mirarla de nuevo",
      paragraphs: [
        "El distribuidor se opone a la decisión sobre {reference}, o lo que se resolvió a distancia no duró.",
        "Ahora la mira alguien que no propuso esa decisión: {link}",
      ],
    },
    "cover-anew": {
      subject: "{reference}: nueva respuesta sobre la garantía",
      paragraphs: [
        "Se leyó un comprobante de compra para {reference}, o se eligió uno entre varios que se contradicen, y se respondió de nuevo sobre la garantía según el día que muestra.",
        "La nueva respuesta, en qué se basa y la anterior están aquí: {link}",
      ],
    },
    "readings-came": {
      subject: "{reference}: llegaron lecturas",
      paragraphs: [
        "El distribuidor añadió lecturas a {reference}. Cuentan desde ahora; las anteriores quedan al lado.",
        "Qué muestran y qué sugieren está aquí: {link}",
      ],
    },
    "proof-sent": {
      subject: "{reference}: hay que leer un comprobante de compra",
      paragraphs: [
        "El distribuidor envió una foto de un comprobante de compra para {reference}. Hasta que alguien del servicio la lea, el día de la compra cuenta como declarado.",
        "La foto y el formulario están aquí: {link}",
      ],
    },
    invitation: {
      subject: "{reference}: su cuenta en el servicio de devoluciones",
      paragraphs: [
        "Se ha abierto una cuenta para {reference}. Ponga su contraseña con este enlace, una sola vez, hasta el {until}: {link}",
        "No dé el enlace a nadie. Si no esperaba esta carta, no lo use.",
      ],
    },
  },
};
