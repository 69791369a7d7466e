import { randomUUID } from "node:crypto";
import { toDateColumn } from "@/lib/data/calendar-columns";
import { asSystem } from "@/lib/data/database";
import { makeSerial, type Serial } from "@/lib/packs/serial";
import { calendarDate } from "@/lib/warranty/calendar";

/** Builds a pack of a revision of the small fleet that never left the maker's store. */
export async function packInStore(
  revisionCode: string,
  sequence: number,
  builtIn: 2024 | 2026 = 2026,
): Promise<Serial> {
  const serial = makeSerial({ model: "QP", buildYear: builtIn, buildWeek: 20, sequence });
  const id = randomUUID();
  const builtOn = toDateColumn(calendarDate(`${builtIn}-05-12`));
  await asSystem(async (tx) => {
    const revision = await tx.revision.findUniqueOrThrow({ where: { code: revisionCode }, select: { id: true } });
    await tx.pack.createMany({ data: [{ id, serial, revisionId: revision.id, builtOn }] });
    await tx.buildRecord.create({
      data: {
        packId: id,
        capacityAh: 40.4,
        loadTestCurrentA: 120,
        loadTestSagV: 1.9,
        groupResistanceMilliohm: Array(16).fill(0.9),
        matchingSpreadMillivolt: 4,
        insulationMegaohm: 500,
        vibrationPassed: true,
        boardIdentity: `BMS-${serial}`,
        firmware: "1.0",
        recordedOn: builtOn,
      },
    });
  });
  return serial;
}
