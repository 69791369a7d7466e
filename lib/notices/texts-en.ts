import { houseTextsEn } from "./house-texts-en";
import type { NoticeLanguageText } from "./notice-text";

export const textsEn: NoticeLanguageText = {
  signedBy: "This message was sent by the maker's returns desk. The details stand behind the link, after signing in.",
  months: [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
  ],
  day: "{day} {month} {year}",
  notices: {
    ...houseTextsEn,
    received: {
      subject: "{reference}: received",
      paragraphs: [
        "We have received the return {reference}.",
        "What to do with the pack, and what not to do, stands here: {link}",
      ],
    },
    question: {
      subject: "{reference}: a question for you",
      paragraphs: [
        "We have a question about the return {reference}. Please answer it by {until}.",
        "The question stands here: {link}",
      ],
    },
    approved: {
      subject: "{reference}: approved",
      paragraphs: [
        "Under the return {reference} a pack may be sent to us. The approval holds until {until}.",
        "Do not send it before you have read which pack it is, and how it must be packed and marked: {link}",
      ],
    },
    "expiry-reminder": {
      subject: "{reference}: the approval ends soon",
      paragraphs: [
        "The approval of the return {reference} ends on {until}, and the pack has not arrived.",
        "If the pack is on its way, say so here. If it stays with you, tell us why: {link}",
      ],
    },
    "approval-ended": {
      subject: "{reference}: the approval has ended",
      paragraphs: [
        "The approval of the return {reference} has ended, and the pack has not been sent. Do not send it now.",
        "If you still want to send it, ask the service desk to renew it: {link}",
      ],
    },
    "pack-received": {
      subject: "{reference}: the pack has arrived",
      paragraphs: [
        "The pack of the return {reference} has arrived with us and is being examined.",
        "How it stands is told here: {link}",
      ],
    },
    "wrong-pack-came": {
      subject: "{reference}: another pack came in its place",
      paragraphs: [
        "In the box for the return {reference} lay another pack than the one it is about. That pack stays with us.",
        "If the right pack is still with you, do not send it yet: it needs a transport class, a label and packing of its own. The page says when they are ready. If it is on its way already, nothing is to be done: {link}",
      ],
    },
    collected: {
      subject: "{reference}: a specialist took the pack away",
      paragraphs: [
        "The maker recorded that a specialist for dangerous packs took the pack of the return {reference} away. If it is still with you, leave it where it is, keep people away, and tell us at once.",
        "The return stays open, and what becomes of it is told here: {link}",
      ],
    },
    "wait-to-send": {
      subject: "{reference}: do not send the pack yet",
      paragraphs: [
        "Since you read how to send the pack of the return {reference}, more has become known of it, the transport rules have changed, or the time for sending it has run out. Hand it to no carrier now, whatever label and packing say, until you are told.",
        "You are told when it may be sent. How it stands is told here: {link}",
      ],
    },
    decided: {
      subject: "{reference}: decided",
      paragraphs: [
        "The return {reference} is decided. The decision with its reasons, and how to object to it, stand here: {link}",
        "Legal rights against the seller are not affected by it.",
      ],
    },
    "sent-back": {
      subject: "{reference}: ready to go back to you",
      paragraphs: [
        "The pack of the return {reference}, or its replacement, is ready to go back to you.",
        "Compare the serial when it arrives, and confirm it here: {link}",
      ],
    },
    "carried-out": {
      subject: "{reference}: carried out",
      paragraphs: [
        "The decision on the return {reference} is carried out. No pack comes to you with it.",
        "What was decided, and what is left to do, stands here: {link}",
      ],
    },
    credited: {
      subject: "{reference}: credited",
      paragraphs: ["An amount for the return {reference} is in your statement, line by line with the reasons: {link}"],
    },
    safety: {
      subject: "{reference}: safety notice, read now",
      paragraphs: [
        "This is a safety notice about {reference}. Read it now: {link}",
        "If a pack is hot, smoking, swollen, leaking or smells, move people away and call the fire service first.",
        "You may have a duty of your own to tell an authority. Ask your adviser at once.",
      ],
    },
    "danger-raised": {
      subject: "{reference}: danger told, look now",
      paragraphs: [
        "Somebody told of a danger, or saw one, on the pack of {reference}. What was said stands here: {link}",
        "Call those who have the pack before anything else. Where it is going on now, the fire service comes first.",
      ],
    },
    "lapse-proposed": {
      subject: "{reference}: no answer came",
      paragraphs: [
        "The dealer has not answered the question about {reference}, and was reminded as often as is set.",
        "Let it lapse, or ask again: {link}",
      ],
    },
    "own-held-back": {
      subject: "{reference}: packs with you are held back",
      paragraphs: [
        "Packs that you have belong to {reference}. The maker holds its packs back, because they may share a fault: sell, lend and hand over none of them.",
        "Where a customer rides one on loan, tell the customer today and take it back. Which packs they are stands here: {link}",
      ],
    },
    "early-signal": {
      subject: "{reference}: early signal of failures",
      paragraphs: [
        "{reference}: more failures are confirmed than packs like these have had at equal age, first seen with all that was known at the end of {until}. That may still be chance.",
        "It is about {signals}.",
        "Look now at what these packs have in common, where they are, and whether those not yet sold have to wait: {link}",
      ],
    },
    "incident-call": {
      subject: "{reference}: incident, acknowledge now",
      paragraphs: [
        "The safety incident {reference} is open and nobody has acknowledged it. Acknowledge it here: {link}",
        "Reporting clocks may be running. You are called again until a named person acknowledges.",
        "Where it was acknowledged before, a clock waits for a decision: half of its time or all of it is over, or the day until which more was to be investigated. Taking notice decides nothing.",
      ],
    },
    "question-overdue": {
      subject: "{reference}: your answer is missing",
      paragraphs: [
        "We asked a question about the return {reference} and wanted the answer by {until}. That day has passed. Please answer now.",
        "The question stands here: {link}",
      ],
    },
    help: {
      subject: "{reference}: it may be put right at your counter",
      paragraphs: [
        "The return {reference} may be put right without sending the pack. It is your turn: what to try stands here: {link}",
        "Try nothing on a pack that is hot, smoking, swollen, leaking or smells. Move people away and call the fire service.",
      ],
    },
    solved: {
      subject: "{reference}: solved without sending",
      paragraphs: [
        "The return {reference} is closed, because it was solved without sending the pack.",
        "If the trouble comes back, say so here in time: {link}",
      ],
    },
    lapsed: {
      subject: "{reference}: lapsed",
      paragraphs: [
        "No answer to our question about the return {reference} came, so it has lapsed. Do not send the pack.",
        "If the pack still needs help, answer the question there, and the return goes on: {link}",
      ],
    },
    merged: {
      subject: "{reference}: joined to another return",
      paragraphs: [
        "The return {reference} was joined to another one about the same trouble, which goes on. Nothing was deleted.",
        "How it stands is told here: {link}",
      ],
    },
    "old-pack": {
      subject: "{reference}: what becomes of the old pack",
      paragraphs: [
        "The old pack of the return {reference} still lies with you. By {until} it should be on its way, as the page of the return says.",
        "Until then keep it as it is: do not charge, use, open or pack it. Ship nothing before a transport class is declared; local rules and trained people come first.",
        "How it stands is told here: {link}",
      ],
    },
    "comes-back": {
      subject: "{reference}: something is to come back",
      paragraphs: [
        "Under the return {reference} the customer was given something before. Of it something is to come back by {until}; what, and how, stands on the page of the return.",
        "If it is a pack, lodge a return for it first. Ship nothing before a transport class is declared; local rules and trained people come first.",
        "How it stands is told here: {link}",
      ],
    },
    "comes-back-overdue": {
      subject: "{reference}: not come back in time",
      paragraphs: [
        "What was to come back under the return {reference} by {until} is not recorded as back. The return stays open until it is, or until somebody says why nothing is awaited any more.",
        "How it stands is told here: {link}",
      ],
    },
    "refund-to-pay": {
      subject: "{reference}: a refund to pay",
      paragraphs: [
        "A refund was agreed with the customer of the return {reference}. In some countries the law gives days for paying it, counted from that day.",
        "The amount, and where the payment is recorded, stands here: {link}",
      ],
    },
    "second-needed": {
      subject: "{reference}: a second person has to approve",
      paragraphs: [
        "The decision proposed on the return {reference} has its first approval and waits for a second person. Until then nothing happens to the pack.",
        "What is proposed, and why two have to agree, stands here: {link}",
      ],
    },
    "your-turn": {
      subject: "{reference}: this waits for you",
      paragraphs: [
        "The return {reference} has waited for you since {until}. Confirm the receipt if you have the pack, or say whether the help solved it.",
        "What is to be done stands here: {link}",
      ],
    },
    objected: {
      subject: "{reference}: to be looked at anew",
      paragraphs: [
        "The dealer objects to the decision on {reference}, or what was solved from a distance did not last.",
        "Somebody who did not propose that decision looks at it now: {link}",
      ],
    },
    "cover-anew": {
      subject: "{reference}: cover answered anew",
      paragraphs: [
        "A proof of sale was read for {reference}, or one was chosen of several at odds, and the answer on cover was given anew from the day it shows.",
        "The new answer, what it rests on and the one before stand here: {link}",
      ],
    },
    "readings-came": {
      subject: "{reference}: readings came",
      paragraphs: [
        "The dealer added readings to {reference}. They count from now on; those before stay beside them.",
        "What they show and what they suggest stands here: {link}",
      ],
    },
    "proof-sent": {
      subject: "{reference}: a proof of sale is to be read",
      paragraphs: [
        "The dealer sent a photograph of a proof of sale for {reference}. Until somebody of the service desk has read it, the day of the sale counts as stated.",
        "Photograph and form stand here: {link}",
      ],
    },
    invitation: {
      subject: "{reference}: your account at the returns desk",
      paragraphs: [
        "An account was opened for {reference}. Set your password with this link, once, until {until}: {link}",
        "Give the link to nobody. If you did not expect this letter, leave it unused.",
      ],
    },
  },
};
