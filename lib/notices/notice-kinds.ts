export const noticeKinds = [
  "received",
  "question",
  "approved",
  "expiry-reminder",
  "approval-ended",
  "pack-received",
  "wrong-pack-came",
  "collected",
  "wait-to-send",
  "class-needed",
  "class-proposed",
  "decided",
  "sent-back",
  "carried-out",
  "credited",
  "safety",
  "danger-raised",
  "lapse-proposed",
  "quarantine-overdue",
  "measurement-overdue",
  "set-held-back",
  "own-held-back",
  "stop-opened",
  "early-signal",
  "incident-call",
  "question-overdue",
  "help",
  "solved",
  "lapsed",
  "merged",
  "old-pack",
  "comes-back",
  "comes-back-overdue",
  "your-turn",
  "refund-to-pay",
  "second-needed",
  "objected",
  "cover-anew",
  "readings-came",
  "proof-sent",
  "emergency-look",
  "invitation",
] as const;
export type NoticeKind = (typeof noticeKinds)[number];

export const noticeLanguages = ["en", "de", "es"] as const;
export type NoticeLanguage = (typeof noticeLanguages)[number];

export const noticeLanguageWords: Readonly<Record<NoticeLanguage, string>> = {
  en: "English",
  de: "German",
  es: "Spanish",
};

/** What a kind of notice is called on a page. */
export const noticeKindWords: Readonly<Record<NoticeKind, string>> = {
  received: "Return received",
  question: "Question for you",
  approved: "Approved, with instructions",
  "expiry-reminder": "Approval about to end",
  "approval-ended": "Approval ended",
  "pack-received": "Pack received",
  "wrong-pack-came": "Another pack came in",
  collected: "Taken away by a specialist",
  "wait-to-send": "Not to be sent yet",
  "class-needed": "Transport class needed",
  "class-proposed": "Transport class proposed",
  decided: "Decision with reasons",
  "sent-back": "Pack ready to come back",
  "carried-out": "Carried out, no pack comes",
  credited: "Credit",
  safety: "Safety notice",
  "danger-raised": "Danger told or seen",
  "lapse-proposed": "No answer: let it lapse?",
  "quarantine-overdue": "Too long in quarantine",
  "measurement-overdue": "Measurement overdue",
  "set-held-back": "Packs are held back",
  "own-held-back": "Packs with you are held back",
  "stop-opened": "Nothing of these goes out",
  "early-signal": "Early signal of failures",
  "incident-call": "Incident not acknowledged",
  "question-overdue": "Answer overdue",
  help: "Help from a distance",
  solved: "Solved from a distance",
  lapsed: "Lapsed without an answer",
  merged: "Joined to another return",
  "old-pack": "What becomes of the old pack",
  "comes-back": "What the customer gives back",
  "comes-back-overdue": "Not come back in time",
  "your-turn": "Waits for you",
  "refund-to-pay": "Refund to pay",
  "second-needed": "Waits for a second approval",
  objected: "Objection to a decision",
  "cover-anew": "Cover answered anew",
  "readings-came": "Readings came",
  "proof-sent": "Proof of sale to be read",
  "emergency-look": "An administrator looks at a return",
  invitation: "Invitation",
};

/** The kinds that name a day. */
export const kindsWithDay: readonly NoticeKind[] = [
  "question",
  "approved",
  "expiry-reminder",
  "question-overdue",
  "old-pack",
  "comes-back",
  "comes-back-overdue",
  "your-turn",
  "invitation",
  "early-signal",
];

const languageOfCountry: Readonly<Record<string, NoticeLanguage>> = {
  DE: "de",
  AT: "de",
  LI: "de",
  ES: "es",
  MX: "es",
  AR: "es",
  CL: "es",
  CO: "es",
};

/** The language a person is written to in: their own choice, else the usual one of the dealer's country, else English. */
export function noticeLanguageOf(chosen: string | null, country: string | null): NoticeLanguage {
  const known = noticeLanguages.find((language) => language === chosen);
  return known ?? languageOfCountry[country ?? ""] ?? "en";
}
