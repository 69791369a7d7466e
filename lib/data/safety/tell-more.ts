import "server-only";
import type { Actor } from "@/lib/access/actor";
import type { IncidentEntryContent } from "@/lib/safety/incident-entry.schema";
import { asSystem, type Transaction } from "../database";
import { breaksUnique } from "../unique-violation";
import { callAfterTelling } from "./incident-calls";
import { appendAfterLast } from "./open-incident";

/** Tries of somebody who tells while others write in the same incident. Engineering default. */
const TRIES = 5;

/**
 * Appends what became known to an incident, with the call to the safety officer in the same transaction; false where it is
 * closed. `also` is done with it, before anything is appended. As the system, outside every transaction: whoever tells something may not read the entries it is appended to.
 */
export async function tellMore(
  actor: Pick<Actor, "userId" | "name">,
  incidentId: string,
  contents: readonly IncidentEntryContent[],
  now: Date,
  also: (tx: Transaction) => Promise<void> = async () => {},
): Promise<boolean> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await asSystem(async (tx) => {
        await also(tx);
        const appended = await appendAfterLast(tx, actor, incidentId, contents, now);
        if (appended.kind !== "appended") return false;
        await callAfterTelling(tx, incidentId, appended.sequence, now);
        return true;
      });
    } catch (error) {
      // Nobody who tells of a danger is sent back because somebody else wrote at the same moment.
      if (!breaksUnique(error, "IncidentEntry_incidentId_sequence_key") || attempt === TRIES) throw error;
    }
  }
}
