import type { HouseNoticeTexts } from "./notice-text";

/** What the maker's own people are told of transport, quarantine, packs held back and looks of an administrator, in English. */
export const houseTextsEn: HouseNoticeTexts = {
  "class-needed": {
    subject: "{reference}: a transport class or leave to send is needed",
    paragraphs: [
      "The pack of the return {reference} is allowed to be sent, but no transport class counts for it now, or the time for sending it has run out. Its dealer sends nothing until a class is declared or leave to send is given anew.",
      "Why, and where that is done, stands here: {link}",
    ],
  },
  "class-proposed": {
    subject: "{reference}: a transport class is proposed",
    paragraphs: [
      "For the pack of the return {reference} a transport class is proposed at the bench. Nothing is printed or sent by it until another person declares the class.",
      "What was found, and where a class is declared, stands here: {link}",
    ],
  },
  "quarantine-overdue": {
    subject: "{reference}: too long in quarantine",
    paragraphs: [
      "The pack of {reference} has lain in its quarantine place longer than is allowed for.",
      "Look at it today, and decide where it goes: {link}",
    ],
  },
  "measurement-overdue": {
    subject: "{reference}: a measurement in quarantine is overdue",
    paragraphs: [
      "The pack of {reference} lies in quarantine and was not measured in time. Nobody knows whether it warms.",
      "Look at it from a distance first, measure it now where that is safe, and write down what you see: {link}",
    ],
  },
  "emergency-look": {
    subject: "{reference}: an administrator looks at this return",
    paragraphs: [
      "An administrator, who sees no case otherwise, has opened the return {reference} for a short time and wrote why.",
      "The reason, until when, and when it was looked at, stands here: {link}",
    ],
  },
  "set-held-back": {
    subject: "{reference}: its packs are held back",
    paragraphs: [
      "The packs of {reference} are held back from now on: none goes out as a replacement or on loan, and none goes back to its customer before somebody lets it go.",
      "Which of them lie under open returns, are kept as replacements or are lent to a customer is listed here. Look through the list now: {link}",
    ],
  },
  "stop-opened": {
    subject: "{reference}: its packs must not go out",
    paragraphs: [
      "{reference}: an issue is open under which none of these packs goes out, not as a replacement, not on loan, and not back to its customer before somebody lets it go.",
      "Dealers who have such packs are told. Look now which of them lie under open returns, are kept as replacements or are lent: {link}",
    ],
  },
};
