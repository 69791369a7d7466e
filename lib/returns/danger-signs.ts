/** What is asked before anything else. The order is that of the question on screen. */
export const dangerSigns = [
  "hot",
  "smoke-or-smell",
  "swollen",
  "leaking",
  "noise-from-inside",
  "impact-or-water",
  "someone-hurt",
  "fire-or-damage-nearby",
] as const;
export type DangerSign = (typeof dangerSigns)[number];

/** "None of these" is an answer somebody gives, never the absence of one. */
export const dangerAnswers = [...dangerSigns, "none-of-these"] as const;
export type DangerAnswer = (typeof dangerAnswers)[number];

export const dangerLabels: Readonly<Record<DangerAnswer, string>> = {
  hot: "Warm or hot although nobody is using or charging it",
  "smoke-or-smell": "Smoke, vapour, or a sharp or sweetish smell",
  swollen: "Swollen, bulging, or the case has opened",
  leaking: "Something is leaking or has dried on the outside",
  "noise-from-inside": "Hissing, crackling or popping from inside",
  "impact-or-water": "It fell, was in a crash, was crushed or pierced, or was under water",
  "someone-hurt": "Someone was hurt or got a shock",
  "fire-or-damage-nearby": "It burned, or something near it was damaged",
  "none-of-these": "None of these",
};

/** Signs that something is going on now: keep away first, everything else waits. The others are grave but still. */
const happeningNow: readonly DangerSign[] = ["hot", "smoke-or-smell", "noise-from-inside", "fire-or-damage-nearby"];

export type Danger =
  | { readonly kind: "none" }
  | { readonly kind: "set-apart"; readonly signs: readonly DangerSign[] }
  | { readonly kind: "keep-away"; readonly signs: readonly DangerSign[] };

/** How grave the answers are. Any sign at all sets the pack apart until service has looked at it. */
export function dangerOf(answers: readonly DangerAnswer[]): Danger {
  const signs = dangerSigns.filter((sign) => answers.includes(sign));
  if (signs.length === 0) return { kind: "none" };
  return { kind: signs.some((sign) => happeningNow.includes(sign)) ? "keep-away" : "set-apart", signs };
}

/** How grave what was told is, from the answers as they are stored; what is no answer of today counts for nothing. */
export function dangerTold(stored: readonly string[]): Danger {
  return dangerOf(dangerAnswers.filter((answer) => stored.includes(answer)));
}
