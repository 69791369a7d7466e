import "server-only";
import { type DatedReturnSettings, returnSettingsSchema, settingsOn } from "@/lib/returns/return-settings.schema";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { fromDateColumn } from "../calendar-columns";
import type { Transaction } from "../database";

/** The periods and limits in force at a place at an instant. */
export async function readReturnSettings(tx: Transaction, now: Date, zone: string): Promise<DatedReturnSettings> {
  return settingsOn(await readApprovedSettings(tx), civilDateAt(now, zone));
}

/** All periods and limits that two people agreed to, of whatever day. */
export async function readApprovedSettings(tx: Transaction): Promise<DatedReturnSettings[]> {
  const rows = await tx.returnSetting.findMany({
    where: { state: "approved" },
    select: { version: true, validFrom: true, values: true },
  });
  return rows.map(({ version, validFrom, values }) => ({
    ...returnSettingsSchema.parse(values),
    version,
    validFrom: fromDateColumn(validFrom),
  }));
}
