import type { ReturnStatus } from "@/lib/returns/return-status";
import { DAY_MS } from "@/lib/warranty/clock-spans";
import type { Leg } from "./leg";
import type { TransportClass } from "./transport-class";

export interface AuthorisationFacts {
  readonly leg: Leg;
  readonly status: ReturnStatus;
  /** The class in force; null while nobody declared one. */
  readonly transportClass: TransportClass | null;
  /** The rules that the class was declared under are still those in force. */
  readonly rulesInForce: boolean;
  /** Nothing that is known today asks for a stricter class than was proposed when this one was declared. */
  readonly evidenceStands: boolean;
  /** When leave to send was last given; null while it was not. */
  readonly authorisedAt: Date | null;
  readonly expiresAt: Date | null;
  /** The old pack of this return was called in after the decision, whatever stage the return is at by then. */
  readonly isCalledIn: boolean;
  /** Facts that stop anything from being sent, in a sentence each. */
  readonly frozenBecause: readonly string[];
  /** Its flag sets it apart, or is graver: nobody ships it until the safety officer has judged it. */
  readonly isSetApart: boolean;
  /** It goes out to a customer and lies under a stop, or in a set of packs that is held back. */
  readonly isStopped: boolean;
}

/** Whether a pack may be sent now; only "may-send" ever prints anything. */
export type SendingState =
  | { readonly kind: "may-send"; readonly until: Date }
  | { readonly kind: "no-class" }
  | { readonly kind: "do-not-ship" }
  | { readonly kind: "frozen"; readonly because: readonly string[] }
  | { readonly kind: "set-apart" }
  | { readonly kind: "stopped" }
  | { readonly kind: "rules-changed" }
  /** What is known of the pack today proposes a stricter class than when this one was declared. */
  | { readonly kind: "evidence-changed" }
  | { readonly kind: "expired"; readonly since: Date }
  /** The return was not allowed to be sent yet: a class alone is no permission. */
  | { readonly kind: "not-approved" }
  /** The return has moved on, or ended: its reference leads a pack nowhere. */
  | { readonly kind: "not-any-more" };

/** Allowed to be sent, or on the way, where a lost label may be printed again. */
const mayBeUnderWay: readonly ReturnStatus[] = ["return-approved", "return-expected"];
/** From these it may still be allowed. */
const beforeApproval: readonly ReturnStatus[] = [
  "draft",
  "sent-in",
  "more-information-needed",
  "in-review",
  "remote-help",
  "decision-proposed",
  "decided",
  "lapsed",
];

/** Leave to send ends after the days of the rule set; it can be given anew under the class as it then stands. */
export function authorisationEnd(authorisedAt: Date, authorisationDays: number): Date {
  return new Date(authorisedAt.getTime() + authorisationDays * DAY_MS);
}

/** Order of the answers: what keeps people safe comes before what is merely out of date. */
export function sendingState(facts: AuthorisationFacts, now: Date): SendingState {
  if (facts.frozenBecause.length > 0) return { kind: "frozen", because: facts.frozenBecause };
  if (facts.isSetApart) return { kind: "set-apart" };
  if (facts.isStopped) return { kind: "stopped" };
  if (facts.transportClass === null || facts.authorisedAt === null || facts.expiresAt === null) {
    return facts.transportClass === "do-not-ship" ? { kind: "do-not-ship" } : { kind: "no-class" };
  }
  if (facts.transportClass === "do-not-ship") return { kind: "do-not-ship" };
  if (!facts.rulesInForce) return { kind: "rules-changed" };
  if (!facts.evidenceStands) return { kind: "evidence-changed" };
  if (now >= facts.expiresAt) return { kind: "expired", since: facts.expiresAt };
  // On the other ways the moves of the pack ask whether it may leave; its class and paper may be made ready before.
  if (facts.leg !== "to-maker" || facts.isCalledIn || mayBeUnderWay.includes(facts.status))
    return { kind: "may-send", until: facts.expiresAt };
  return { kind: beforeApproval.includes(facts.status) ? "not-approved" : "not-any-more" };
}

/** Why nothing is printed, in a sentence. */
export function whyNotSent(state: Exclude<SendingState, { kind: "may-send" }>): string {
  switch (state.kind) {
    case "no-class":
      return "No transport class has been declared for this journey of the pack, so nothing is printed. Until then it is not packed and not sent.";
    case "do-not-ship":
      return "This pack is not to be shipped: isolate it. A specialist collects it, and the dangerous-goods adviser names the packing.";
    case "frozen":
      return `Nothing is printed while this pack is held. ${state.because.join(" ")}`;
    case "set-apart":
      return "This pack is set apart for safety, so nothing is printed. It stays where it is until the safety officer has judged it.";
    case "stopped":
      return "This pack is held back, by a stop or with a set of packs, so nothing is printed. A manager or the safety officer lets it go, or another one goes in its place.";
    case "rules-changed":
      return "The transport rules have changed since the class was declared. Declare it anew under the rules in force.";
    case "evidence-changed":
      return "More is known of this pack than when its class was declared, and it asks for a stricter one. Declare it anew.";
    case "expired":
      return "The leave to send this pack has run out. The service desk can give it anew.";
    case "not-approved":
      return "The service desk has not allowed this return to be sent yet. Until then nothing is printed, packed or sent.";
    case "not-any-more":
      return "This return is not to be sent any more, so nothing is printed. Ask the service desk before a pack leaves.";
    default: {
      const never: never = state;
      return never;
    }
  }
}
