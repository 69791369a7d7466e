import { asSystem } from "@/lib/data/database";

/**
 * Lays the latest arrival of a return into a quarantine place and takes it out again, as rows: that this takes its time and
 * its measurements is tried in tests/integration/receiving.
 */
export async function lieInQuarantine(reference: string, at: Date): Promise<void> {
  const by = { placedByUserId: "u", placedByName: "U", releasedByUserId: "u", releasedByName: "U" };
  await asSystem(async (tx) => {
    const { id: arrivalId } = await tx.arrival.findFirstOrThrow({
      where: { return: { reference } },
      orderBy: { arrivedAt: "desc" },
      select: { id: true },
    });
    const place = {
      code: "T1",
      whereItIs: "Yard",
      maxPacks: 99,
      maxEnergyKwh: 999,
      minimumHours: 1,
      overdueAfterHours: 99,
      emergencyNumber: "112",
      onCall: "Gate",
      extinguishing: "Hydrant",
      assemblyPoint: "Car park",
      setByUserId: "u",
      setByName: "U",
      setAt: at,
    };
    const { id: placeId } = await tx.quarantinePlace.upsert({ where: { code: "T1" }, create: place, update: {} });
    await tx.quarantineStay.create({
      data: { arrivalId, placeId, energyKwh: 1, placedAt: at, releasedAt: at, ...by },
      select: { id: true },
    });
  });
}
