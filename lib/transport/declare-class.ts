import { z } from "zod";
import type { Actor } from "@/lib/access/actor";
import { type Act, may } from "@/lib/access/may";
import { storableText } from "@/lib/returns/storable-text";
import { criteria, criterionAnswers } from "./criteria";
import { legs } from "./leg";
import type { ClassProposal } from "./propose-class";
import { isStricter, type TransportClass, transportClasses } from "./transport-class";

const answer = z.enum(criterionAnswers, "Say what was found under each criterion.");

/** What a named person declares: the class, what was looked at, and why. One object for the form and the server. */
export const classDeclarationSchema = z.object({
  transportClass: z.enum(transportClasses, "Choose the class."),
  criteria: z.object({
    "acute-hazard": answer,
    "use-or-misuse": answer,
    "physical-damage": answer,
    "short-circuit-protection": answer,
    "safety-features": answer,
    "internal-safety-components": answer,
  }),
  inEquipment: z.boolean().default(false),
  leg: z.enum(legs).default("to-maker"),
  /** Name and address of the supplier a sample goes to; the other ways end at an address the program knows. */
  consignee: storableText({
    least: 0,
    most: 400,
    tooShort: "",
    tooLong: "This is longer than 400 characters. Keep to name and address.",
  }).default(""),
  reason: storableText({
    least: 10,
    most: 2000,
    tooShort: "Write what the class rests on, in a sentence a carrier or an inspector will understand.",
    tooLong: "This is longer than 2000 characters. Keep to what the class rests on.",
  }),
  /** Number of the declaration this one follows, 0 for the first: of two people at once, the second is told. */
  seenDeclarations: z.coerce.number("Reload the page: it does not know what it shows.").int().min(0),
});
export type ClassDeclaration = z.output<typeof classDeclarationSchema>;

export interface DeclarationStanding {
  readonly proposal: ClassProposal;
  readonly rulesConfirmed: boolean;
  readonly declarations: number;
  /** Another pack goes out in place of the returned one, and none is kept for it yet. */
  readonly unitIsMissing: boolean;
  /** Facts that stop anything from being sent, in a sentence each. */
  readonly frozenBecause: readonly string[];
  /** Who proposed the class that waits for a declaration; null where none does. */
  readonly proposedByUserId: string | null;
}

export type DeclarationRefusal =
  | "not-allowed"
  | "own-proposal"
  | "someone-changed-this"
  | "rules-not-confirmed"
  | "not-diagnosed"
  | "criterion-open"
  | "acute-hazard-found"
  | "critical-proposed"
  | "consignee-missing"
  | "unit-missing"
  | "frozen";

export type DeclarationOutcome =
  | { readonly kind: "declared"; readonly transportClass: TransportClass }
  | { readonly kind: "refused"; readonly why: DeclarationRefusal; readonly sentence: string };

const sentences: Readonly<Record<DeclarationRefusal, string>> = {
  "not-allowed": "The class is declared by the service lead, a manager or the safety officer.",
  "own-proposal": "You proposed this class, so another person declares it.",
  "someone-changed-this":
    "Somebody declared a class while you had this open. Look at it as it is now, then declare again.",
  "rules-not-confirmed":
    "The dangerous-goods safety adviser has not confirmed these rules, so no pack can be called “not damaged” under them.",
  "not-diagnosed":
    "What was told and read does not allow “not damaged”: a battery that cannot be diagnosed counts as damaged or defective.",
  "criterion-open": "“Not damaged” needs every criterion examined and no sign found.",
  "acute-hazard-found":
    "With a sign of acute hazard the pack is not shipped: isolate it and have a specialist collect it.",
  "critical-proposed":
    "Something says that this pack may react dangerously. “Damaged” can be declared only after every criterion was examined.",
  "consignee-missing": "Write the name and the address of the supplier that the sample goes to.",
  "unit-missing":
    "No pack from stock is kept for this return, or none is at the dealer's, so there is nothing to declare for this way.",
  frozen: "A safety incident holds this pack: it may only be classed as not to be shipped.",
};

/**
 * Whether this person may declare this class now. A stricter class than proposed is always open to them. A less strict
 * one never reaches "not damaged", and leaves "do not ship" only where somebody examined every criterion and found no
 * acute hazard. The caller stores the declaration with the name of the person.
 */
export function declareClass(
  actor: Actor,
  standing: DeclarationStanding,
  declared: ClassDeclaration,
): DeclarationOutcome {
  if (standing.proposedByUserId === actor.userId) return refuse("own-proposal");
  return outcomeOf(actor, "set-transport-class", standing, declared);
}

/**
 * Whether this person may lay this class before those who declare: under the same conditions, because what nobody may declare
 * helps nobody as a proposal. Nothing rests on it until another named person declares.
 */
export function proposeClassInHand(
  actor: Actor,
  standing: DeclarationStanding,
  declared: ClassDeclaration,
): DeclarationOutcome {
  return outcomeOf(actor, "propose-transport-class", standing, declared);
}

function refuse(why: DeclarationRefusal): DeclarationOutcome {
  return { kind: "refused", why, sentence: sentences[why] };
}

function outcomeOf(
  actor: Actor,
  act: Act,
  standing: DeclarationStanding,
  declared: ClassDeclaration,
): DeclarationOutcome {
  const why = may(actor, act) ? refusalOf(standing, declared) : "not-allowed";
  return why === null ? { kind: "declared", transportClass: declared.transportClass } : refuse(why);
}

function refusalOf(
  { proposal, rulesConfirmed, declarations, unitIsMissing, frozenBecause }: DeclarationStanding,
  declared: ClassDeclaration,
): DeclarationRefusal | null {
  if (declared.seenDeclarations !== declarations) return "someone-changed-this";
  if (unitIsMissing) return "unit-missing";
  if (declared.leg === "to-supplier" && declared.consignee.trim() === "") return "consignee-missing";
  if (declared.transportClass === "do-not-ship") return null;
  if (frozenBecause.length > 0) return "frozen";
  const answers = criteria.map((criterion) => declared.criteria[criterion]);
  if (declared.criteria["acute-hazard"] === "sign-found") return "acute-hazard-found";
  if (proposal.transportClass === "do-not-ship" && answers.includes("not-examined")) return "critical-proposed";
  if (declared.transportClass !== "not-damaged") return null;
  if (!rulesConfirmed) return "rules-not-confirmed";
  if (isStricter(proposal.transportClass, "not-damaged")) return "not-diagnosed";
  return answers.every((given) => given === "no-sign") ? null : "criterion-open";
}
