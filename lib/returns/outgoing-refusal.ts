/** Why a pack does not leave the house for a carrier, a dealer or a supplier. Each is one sentence for the person who tried. */
export const outgoingRefusals = {
  "outgoing-no-class":
    "Nobody has declared the transport class of the pack that goes out. It is declared on the page of transport, for this way.",
  "outgoing-do-not-ship":
    "The pack that would go out is classed as not to be shipped: a specialist collects it, and the dangerous-goods adviser names the packing.",
  "outgoing-held": "The pack that would go out is held: it is set apart, or a safety incident of it is open.",
  "outgoing-stopped":
    "The pack that would go out is held back, by a stop or with a set of packs. The page of remedy and notices says what can be done.",
  "outgoing-rules-changed":
    "The transport rules have changed since the class of the way out was declared. It is declared anew first.",
  "outgoing-evidence-changed":
    "More is known of the pack now than when its class for the way out was declared. It is declared anew first.",
  "outgoing-ended": "The leave to send the pack out has run out. It is given anew on the page of transport.",
  "outgoing-no-orders":
    "There is no packing instruction for this way yet, so no label is printed. The page of transport says what is missing.",
  "outgoing-no-label": "Print the label for the way out first.",
  "outgoing-not-packed":
    "Go through the packing checklist for the way out and photograph the packed box, open and closed, first.",
} as const;

export type OutgoingRefusal = keyof typeof outgoingRefusals;
