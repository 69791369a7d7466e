import { z } from "zod";
import { lowerFirst } from "@/lib/diagnosis/wording";
import { type IncidentFlag, incidentFlagLabels, incidentFlags } from "@/lib/safety/incident-flags";
import { atTheDealers, atTheWorks, readCustodyPlace } from "./custody-track";
import type { DangerSign } from "./danger-signs";

/** A step of a pack's place or of its safety, as it lies in their histories. */
export interface PackStep {
  readonly track: "custody" | "safety";
  readonly from: string;
  readonly to: string;
  readonly at: Date;
  readonly facts: unknown;
}

/** A danger that somebody told in words, with the events they ticked; the words themselves no program reads. */
export interface ToldDangerOnPack {
  readonly at: Date;
  readonly flags: readonly IncidentFlag[];
}

const factsSchema = z.object({
  told: z.boolean().catch(false),
  flags: z.array(z.enum(incidentFlags)).catch([]),
  signs: z.array(z.string()).catch([]),
});

const IMPACT: DangerSign = "impact-or-water";

/**
 * What was told of a pack in words since the house gave it back last, oldest first: by telephone, at a counter, on the page of
 * dangers, before its return or after. What a form or goods-in says stands with the return and is not in it.
 */
export function toldSince(steps: readonly PackStep[]): ToldDangerOnPack[] {
  let told: ToldDangerOnPack[] = [];
  for (const { track, from, to, at, facts } of steps) {
    if (track === "custody") {
      if (isGivenBack(from, to)) told = [];
      continue;
    }
    const read = factsSchema.safeParse(facts);
    if (!read.success) continue;
    if (read.data.told || read.data.signs.includes(IMPACT)) told.push({ at, flags: read.data.flags });
  }
  return told;
}

function isGivenBack(from: string, to: string): boolean {
  const [left, reached] = [readCustodyPlace(from), readCustodyPlace(to)];
  return atTheDealers.includes(reached) && (atTheWorks.includes(left) || left === "with-carrier-out");
}

/**
 * What of it speaks for damage once the safety officer has judged the pack, a sentence each: events that always make an
 * incident, and a flag that was lowered no further than to care. Words alone under no flag any more were nothing.
 */
export function judgedDangers(told: readonly ToldDangerOnPack[], isCautioned: boolean): string[] {
  const events = told.flatMap(({ flags }) =>
    flags.length === 0
      ? []
      : [
          `Told since: ${flags.map((flag) => lowerFirst(incidentFlagLabels[flag])).join("; ")}. Look at each criterion anew.`,
        ],
  );
  return [...new Set([...(isCautioned ? ["It is marked to be handled with care."] : []), ...events])];
}
