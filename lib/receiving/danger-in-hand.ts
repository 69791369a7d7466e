import { graverOf, type SafetyState } from "@/lib/returns/safety-track";
import { type IncidentFlag, incidentFlags } from "@/lib/safety/incident-flags";
import { type HandSign, handSignLabels } from "./arrival.schema";

interface WhatASignMeans {
  /** Warm, smelling or hissing is going on now: nobody moves it. The others are grave but still. */
  readonly flag: "isolate" | "do-not-move";
  readonly incident: readonly IncidentFlag[];
}

/** The same as for the signs a dealer is asked for: whoever sees a leak, it is a leak. Common practice, no source. */
const meaning: Readonly<Record<HandSign, WhatASignMeans>> = {
  warm: { flag: "do-not-move", incident: ["heat-without-load"] },
  swollen: { flag: "isolate", incident: ["swelling"] },
  leaking: { flag: "isolate", incident: ["leak"] },
  smell: { flag: "do-not-move", incident: ["smoke"] },
  noise: { flag: "do-not-move", incident: ["venting"] },
  "case-broken": { flag: "isolate", incident: [] },
  "wet-inside": { flag: "isolate", incident: [] },
};

export interface DangerInHand {
  readonly flag: SafetyState;
  /** Empty where the pack is set apart and no incident follows. */
  readonly incident: readonly IncidentFlag[];
  readonly sentence: string;
}

/** What follows from the signs seen, smelled and heard with a pack in hand; null where there were none. */
export function dangerInHand(signs: readonly HandSign[]): DangerInHand | null {
  if (signs.length === 0) return null;
  const raised = new Set(signs.flatMap((sign) => meaning[sign].incident));
  return {
    flag: signs.map((sign): SafetyState => meaning[sign].flag).reduce(graverOf),
    incident: incidentFlags.filter((flag) => raised.has(flag)),
    sentence: `Seen at goods-in: ${signs.map((sign) => handSignLabels[sign].toLowerCase()).join("; ")}.`,
  };
}
