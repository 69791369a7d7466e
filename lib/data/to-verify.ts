import "server-only";
import { lettersToVerify } from "@/lib/letters/letters-to-verify";
import { noticesToVerify } from "@/lib/notices/notices-to-verify";
import { incidentChecklist } from "@/lib/safety/incident-checklist";
import { reportingClocks } from "@/lib/safety/reporting-clocks";
import { translationsToVerify } from "@/lib/transport/said-also";
import { type ToVerify, toVerifyIn } from "@/lib/transport/to-verify";
import { usedBatteryStatement } from "@/lib/transport/used-battery-statement";
import { holidayListSchema } from "@/lib/warranty/holiday-calendar";
import { lawToVerify } from "@/lib/warranty/law-to-verify";
import type { LegalDuty } from "@/lib/warranty/legal-duty";
import { fromDateColumn } from "./calendar-columns";
import { asSystem, closeDatabase } from "./database";
import { readLegalDuties } from "./warranty/legal-duties-held";

/** A country of the Union: the sheet is the same for all, but for whom it is written. */
const ANY_UNION_COUNTRY = "DE";

/** Tables that stand in the program itself. */
function inTheProgram(duties: readonly LegalDuty[]): ToVerify[] {
  const { version, validFrom } = reportingClocks;
  const sheet = usedBatteryStatement(ANY_UNION_COUNTRY);
  return [
    ...lawToVerify(duties),
    ...toVerifyIn("Clocks of reports to authorities", `${version}, from ${validFrom}`, reportingClocks),
    ...toVerifyIn("What is done once an incident is open", "this release", incidentChecklist),
    { table: sheet.title, version: "this release", sentence: "The whole sheet.", mark: sheet.forCounsel },
    ...toVerifyIn(sheet.title, "this release", sheet),
    ...translationsToVerify(),
    ...lettersToVerify(),
    ...noticesToVerify(),
  ];
}

/**
 * Every sentence of law and transport that still needs a licensed eye, whether it was read, remembered or put into other words: in the
 * program, in letters and notices, and in the versions of the transport rules and of the public holidays that were approved. As the system, because it is nobody's request.
 */
export async function listToVerify(): Promise<ToVerify[]> {
  const approved = { state: "approved" };
  const [rules, holidays, duties] = await asSystem(
    async (tx) =>
      [
        await tx.transportRuleVersion.findMany({ where: approved, orderBy: { validFrom: "asc" } }),
        await tx.holidayCalendar.findMany({ where: approved, orderBy: [{ country: "asc" }, { validFrom: "asc" }] }),
        await readLegalDuties(tx),
      ] as const,
  );
  return [
    ...inTheProgram(duties),
    ...rules.flatMap(({ version, validFrom, content }) =>
      toVerifyIn("Transport rules", `${version}, from ${fromDateColumn(validFrom)}`, content),
    ),
    ...holidays.flatMap(({ version, country, validFrom, holidays: days }) =>
      holidayListSchema.parse(days).flatMap(({ rule, name }) => {
        const table = `Public holidays, ${country}`;
        return toVerifyIn(table, `${version}, from ${fromDateColumn(validFrom)}`, {
          ...name,
          text: `${rule}: ${name.text}`,
        });
      }),
    ),
  ];
}

/** The same for a command: the embedded folder is given back at the end. */
export async function listToVerifyOnce(): Promise<ToVerify[]> {
  try {
    return await listToVerify();
  } finally {
    await closeDatabase();
  }
}
