import { outgoingRefusals } from "./outgoing-refusal";

/** Why a move is not made. Each is one sentence for the person who tried. */
export const moveRefusals = {
  "not-allowed": "This is not yours to do.",
  "someone-changed-this":
    "Somebody changed this return while you had it open. Look at it as it is now, then decide again.",
  "not-from-here": "The return has moved on, so this step is no longer open.",
  "reason-missing": "Write the reason: the next reader has only this.",
  "remedy-missing": "Choose what is to be done.",
  "safety-open": "The pack is set apart for safety. Isolate it, or have the safety officer judge the flag first.",
  "on-hold": "A legal hold lies on this pack: nothing that destroys or gives away evidence goes ahead.",
  "due-missing": "Say by which day you need the answer.",
  "due-in-the-past": "This day is over already. Give one that the dealer can still keep.",
  "readings-missing":
    "Choose the readings file of this pack first. One that belongs to a return already, or to another pack, cannot be added.",
  "proof-missing": "Keep a photograph of the proof first: the day it shows is taken from it.",
  "proof-day-missing": "Give the day of delivery that the proof shows.",
  "reminders-left": "The dealer must have been reminded, and the day for the answer be past, before this lapses.",
  "log-missing": "Help from a distance needs the readings. Ask for them, or say that they were asked for.",
  "dealer-has-not-confirmed": "The dealer has to confirm first that it helped.",
  "class-missing": "A named person has to declare the transport class first.",
  "do-not-ship": "This pack is not to be shipped: it is collected by specialists or judged where it is.",
  "rules-changed":
    "The transport rules have changed since the class was declared. It is declared anew under the rules in force first.",
  "evidence-changed":
    "More is known of this pack than when its class was declared, and it asks for a stricter one. It is declared anew first.",
  "label-missing": "Print the return label first: a pack without it cannot be told from another.",
  "not-packed": "Go through the packing checklist and photograph the packed box first.",
  "sending-ended": "The permission to send has ended. Ask service to renew it.",
  "sending-still-open": "The permission to send has not ended yet.",
  "arrival-missing": "A pack is received at goods-in: the entry there moves the return.",
  "mismatch-open": "That another pack came in is settled at goods-in: the entry there moves the return.",
  "scan-missing": "Scan the serial of the pack that is really here.",
  "wrong-pack": "This is another pack than the return is about. Record the mismatch in words, or take the right pack.",
  "wrong-unit": "This is not the pack that goes out with this return. Take the right one.",
  "delivery-unproven":
    "The dealer has not confirmed it, so write who delivered it, under which consignment number, and on which day.",
  "delivery-day-wrong": "It cannot have been delivered on that day: give one from the decision on, up to today.",
  "quarantine-not-met":
    "The quarantine time is not over, a re-measurement is missing, or the pack is not scanned in under this return.",
  "tests-open": "Tests that must be done are open. Do them, or say why one is waived.",
  "coding-missing": "Code the fault on its four levels first; “unknown” is an answer at each of them.",
  "no-fault-untried":
    "Nobody says “no fault found” before the protocol for it is done, or left out by the service lead with a reason.",
  "no-fault-showed": "The complaint showed when it was tried again, so a fault was found. Code what was found.",
  "notices-missing": "The notices that the place of sale asks for have to be shown and answered first.",
  "own-proposal": "Somebody else approves: you proposed this yourself.",
  "own-return": "Somebody else approves: you lodged this return, or began it for the dealer.",
  "same-approver": "A second person has to approve: you approved this already.",
  "first-approval-missing": "The service lead approves first.",
  "no-second-needed": "One approval is enough for this decision, and it is the service lead's.",
  "needs-two":
    "One person alone does not record this as solved: it differs from what readings suggest or the customer chose, or comes beside what the customer was given before. Propose it as put right at the dealer's: two people approve it.",
  "former-reviewer": "Somebody who has not judged this return before has to look at it now.",
  "pack-not-here": "The pack is not at the works, so nobody can work on it.",
  "pack-is-here": "The pack is at the works already, so nobody has to send it.",
  "pack-out-of-reach": "Nobody can send this pack: it is missing, with a supplier, or recycled. Propose what follows.",
  "pack-is-with-us": "The pack is at the works or on its way there: the return ends with a decision on it.",
  "look-first":
    "The pack is not tested yet: from here it can be set apart, disposed of, replaced or refunded. For anything else test it first.",
  "outcome-missing": "Write down who took the pack away at the dealer's, and under which paper.",
  "refund-not-agreed": "Record first, with what the customer gets, that the refund is agreed.",
  "refund-in-other-currency":
    "Part of this complaint was paid back before in another currency. Give the whole amount in that one.",
  "given-before":
    "The customer was given money or another pack under this complaint before. Say whether any of it comes back, with how and by when; if nothing does, write why.",
  "refusal-unseen":
    "The pack was never here and photographs of the complaint are missing. Ask the dealer for them, call the pack in, or write why it is refused without.",
  "awaited-back":
    "The customer is still to give something back. Record on the page of remedy and notices that it is back, or why nothing is awaited any more.",
  "plan-missing": "Name the parts and the plan first.",
  "unit-missing": "Name the unit that is kept ready as replacement.",
  "unit-stopped": "The unit kept ready lies under a stop and must not go out.",
  "pack-stopped":
    "This pack is held back, by a stop or with a set of packs. A manager or the safety officer lets it go with a reason, on the page of remedy and notices, or the return is taken up again for another remedy.",
  "work-not-needed": "This decision asks for no work on the pack.",
  "work-needed": "This decision asks for work first.",
  "not-known-safe": "Somebody has to state that the pack is safe to give back.",
  "limits-not-passed":
    "It has to pass the limits of a new build, and somebody who did none of the work releases it, on the page of the work.",
  "signature-missing": "Whoever releases it signs with the name.",
  "remedy-not-delivered": "The customer does not have the remedy yet.",
  "loan-out": "The pack lent to the customer has not come back yet.",
  "unit-out":
    "The pack that was sent in place of the returned one was neither handed over nor did it come back. Record where it is first.",
  "money-open": "Money is still open on this return.",
  "letter-given": "It is recorded already when the customer got the letter of this decision.",
  "letter-day-missing": "Give the day on which the customer got the letter.",
  "letter-day-wrong": "The customer cannot have got it on that day: give one from the decision on, up to today.",
  "decision-can-go-on":
    "What was decided can still be carried out, so it is not taken up again. Whoever does not agree may object in time.",
  "too-early": "The time in which the dealer may still object is not over.",
  "too-late": "The time for this is over.",
  "duplicate-missing": "Name the other return that this is a duplicate of.",
  ...outgoingRefusals,
} as const;

export type MoveRefusal = keyof typeof moveRefusals;
