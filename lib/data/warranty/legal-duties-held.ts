import "server-only";
import { createHash } from "node:crypto";
import { z } from "zod";
import { calendarDate } from "@/lib/warranty/calendar";
import { dateText } from "@/lib/warranty/date-text";
import { legalDuties } from "@/lib/warranty/legal-duties";
import type { CounselsWord, LegalDuty } from "@/lib/warranty/legal-duty";
import { legalDutyContentSchema } from "@/lib/warranty/legal-duty.schema";
import type { Transaction } from "../database";

/** SHA-256 over all a row says: one changed word is another row, and counsel is asked anew. */
export function fingerprintOfDuty(duty: LegalDuty): string {
  const { country, salesFrom, months, insteadOfMonths, burdenMonths, rejectDays, monthsAfterRepair } = duty;
  const { informBeforeRemedy, refurbishedOnRequest, repairsThatLengthen, consumerChooses } = duty;
  const sources = duty.sources.map(({ named, mark }) => [named, mark]);
  const said = [country, salesFrom, months, insteadOfMonths, burdenMonths, rejectDays, monthsAfterRepair];
  return (
    createHash("sha256")
      // Of one repair nothing was said when the first rows were confirmed, and their words are still the same.
      .update(
        JSON.stringify([
          ...said,
          informBeforeRemedy,
          refurbishedOnRequest,
          sources,
          ...(repairsThatLengthen === 1 ? [] : [repairsThatLengthen]),
          ...(consumerChooses ? ["chooses"] : []),
        ]),
      )
      .digest("hex")
  );
}

interface DutyColumns {
  readonly version: string;
  readonly country: string;
  readonly salesFrom: string;
  readonly validFrom: string;
  readonly content: unknown;
}

export function toLegalDuty({ version, country, salesFrom, validFrom, content }: DutyColumns): LegalDuty {
  return {
    version,
    country,
    salesFrom: calendarDate(salesFrom),
    countsFrom: calendarDate(validFrom),
    confirmation: null,
    ...legalDutyContentSchema.parse(content),
  };
}

const heldSchema = z.object({
  versions: z.array(
    z.object({
      version: z.string(),
      country: z.string(),
      salesFrom: z.string(),
      validFrom: z.string(),
      content: z.unknown(),
    }),
  ),
  words: z.array(
    z.object({
      fingerprint: z.string(),
      counselName: z.string(),
      counselQualification: z.string(),
      statement: z.string(),
      confirmedOn: dateText("confirmedOn"),
      recordedByName: z.string(),
    }),
  ),
});

/**
 * Every row of the law that is held: what the program comes with and what two people agreed on, each with counsel's word on
 * exactly these sentences. One statement, because every page with an answer on cover asks it.
 */
export async function readLegalDuties(tx: Transaction): Promise<LegalDuty[]> {
  const [row] = await tx.$queryRaw<unknown[]>`
    SELECT
      (SELECT coalesce(json_agg(json_build_object('version', "version", 'country', "country", 'salesFrom', "salesFrom",
         'validFrom', "validFrom", 'content', "content") ORDER BY "validFrom"), '[]')
       FROM "LegalDutyVersion" WHERE "state" = 'approved') AS "versions",
      (SELECT coalesce(json_agg(json_build_object('fingerprint', "fingerprint", 'counselName', "counselName",
         'counselQualification', "counselQualification", 'statement', "statement", 'confirmedOn', "confirmedOn",
         'recordedByName', "recordedByName")), '[]')
       FROM "LegalDutyConfirmation") AS "words"`;
  const { versions, words } = heldSchema.parse(row);
  const said = new Map<string, CounselsWord>(words.map(({ fingerprint, ...word }) => [fingerprint, word]));
  const rows = [...legalDuties, ...versions.map(toLegalDuty)];
  if (said.size === 0) return rows;
  return rows.map((duty) => ({ ...duty, confirmation: said.get(fingerprintOfDuty(duty)) ?? null }));
}
