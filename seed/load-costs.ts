import { randomUUID } from "node:crypto";
import { mintActor } from "@/lib/access/actor";
import { toDateColumn } from "@/lib/data/calendar-columns";
import { asSystem } from "@/lib/data/database";
import { claimMoney } from "@/lib/data/money/settlement-claims";
import { moveLine } from "@/lib/data/money/settlement-moves";
import { keepForecast } from "@/lib/data/reliability/kept-forecasts";
import { claimSchema } from "@/lib/settlement/claim.schema";
import { calendarDate } from "@/lib/warranty/calendar";
import type { StoryCalendar } from "./scenario/story-calendar";

/** Invented costs of one return, in the smallest unit: part, remedy, model, country, currency, mean, spread, error, cases. */
const costs: readonly Cost[] = [
  ["own-work", "repair", "GW", null, "EUR", 21_500, 9000, 1423, 40],
  ["own-work", "replace", "GW", null, "EUR", 94_000, 11_000, 9000, 0],
  ["own-work", "repair", "BR", null, "EUR", 18_500, 7500, 1187, 40],
  ["own-work", "replace", "BR", null, "EUR", 78_000, 9000, 8000, 0],
  ["own-work", "remote-fix", null, null, "EUR", 2500, 1500, 500, 0],
  ["own-work", "isolate", null, null, "EUR", 110_000, 40_000, 20_000, 0],
  ["own-work", "refund", null, null, "EUR", 82_000, 15_000, 10_000, 0],
  ["own-work", "return-as-is", null, null, "EUR", 7500, 3000, 1000, 0],
  ["own-work", "refuse", null, null, "EUR", 6000, 2500, 1000, 0],
  ["own-work", "redirect", null, null, "EUR", 4000, 1500, 800, 0],
  ["own-work", "dispose", null, null, "EUR", 9000, 4000, 1500, 0],
  ["dealer-payments", "refund", null, null, "EUR", 8600, 2800, 900, 0],
  ["dealer-payments", "return-as-is", null, null, "EUR", 5200, 1800, 600, 0],
  ["dealer-payments", "refuse", null, null, "EUR", 2600, 1200, 400, 0],
  ["dealer-payments", "redirect", null, null, "EUR", 3400, 1400, 500, 0],
  ["dealer-payments", "dispose", null, null, "EUR", 6800, 2600, 900, 0],
  ["dealer-payments", "repair", null, null, "EUR", 6800, 2500, 700, 0],
  ["dealer-payments", "replace", null, null, "EUR", 8600, 2800, 900, 0],
  ["dealer-payments", "remote-fix", null, null, "EUR", 3200, 1000, 500, 0],
  ["dealer-payments", "isolate", null, null, "EUR", 12_000, 6000, 2500, 0],
  ["dealer-payments", "repair", null, "US", "USD", 10_400, 3800, 1100, 0],
  ["dealer-payments", "replace", null, "US", "USD", 13_600, 4200, 1400, 0],
  ["dealer-payments", "repair", null, "AU", "AUD", 15_800, 5200, 1700, 0],
  ["dealer-payments", "replace", null, "AU", "AUD", 18_400, 5600, 2000, 0],
  ["dealer-payments", "repair", null, "IN", "INR", 310_000, 120_000, 40_000, 0],
  ["dealer-payments", "replace", null, "IN", "INR", 390_000, 140_000, 50_000, 0],
];

/** Invented rates into euro. */
const exchangeRates = [
  ["USD", 0.92],
  ["AUD", 0.6],
  ["INR", 0.0105],
  ["GBP", 1.17],
] as const;

const from = toDateColumn(calendarDate("2025-01-01"));
const setAt = new Date("2025-01-02T09:00:00Z");
/** A forecast was kept so many days ago, so that there is one to hold against what came. */
const KEPT_DAYS_AGO = 90;
const manager = mintActor({ userId: "set-up-manager", name: "Manager (set-up)", role: "manager", dealerId: null });
const finance = mintActor({ userId: "set-up-finance", name: "Finance (set-up)", role: "finance", dealerId: null });

/** What returns cost, so that forecasts show money: nothing for one model, one proposal open, and one country settled often enough. */
export async function loadCosts(at: StoryCalendar): Promise<void> {
  await asSystem(async (tx) => {
    await tx.exchangeRate.createMany({
      data: exchangeRates.map(([currency, rate]) => ({
        currency,
        into: "EUR",
        rate,
        validFrom: from,
        source: "Invented for the demo",
        setByUserId: finance.userId,
        setByName: finance.name,
        setAt,
      })),
    });
    await tx.costAssumption.createMany({ data: costs.map(toRow) });
    await tx.costAssumption.create({
      data: {
        ...toRow(["own-work", "repair", "TF", null, "EUR", 16_000, 6000, 2500, 0]),
        validFrom: toDateColumn(at("2026-10-01")),
        state: "proposed",
        why: "First repairs of this model took about as long as those of the other small pack, with cheaper parts.",
        proposedByUserId: "set-up-manager",
        proposedByName: "Manager (set-up)",
        proposedAt: new Date(`${at("2026-10-01")}T09:00:00Z`),
      },
    });
  });
  await settleSomeReturns(at);
  const kept = await keepForecast(manager, new Date(Date.now() - KEPT_DAYS_AGO * 86_400_000));
  if (!kept.ok) throw new Error(kept.sentence);
}

type Cost = readonly [string, string, string | null, string | null, string, number, number, number, number];

function toRow([part, remedy, modelCode, country, currency, meanMinor, spreadMinor, errorMinor, cases]: Cost) {
  return {
    part,
    remedy,
    modelCode,
    country,
    currency,
    meanMinor,
    spreadMinor,
    errorMinor,
    cases,
    validFrom: from,
    state: "approved",
    why: "Invented for the demo.",
    proposedAt: setAt,
  };
}

/** Fourteen German repairs paid for, so that this part of their cost comes from the ledger. */
async function settleSomeReturns(at: StoryCalendar): Promise<void> {
  const repairs = await asSystem((tx) =>
    tx.return.findMany({
      where: {
        decision: { is: { remedy: "repair", confirmedFailure: true } },
        dealer: { country: "DE" },
        lodgedAt: { gte: new Date(`${at("2025-02-01")}T00:00:00Z`) },
      },
      select: { reference: true, dealerId: true, lodgedAt: true },
      orderBy: { lodgedAt: "asc" },
      take: 14,
    }),
  );
  for (const [index, { reference, dealerId, lodgedAt }] of repairs.entries()) {
    const dealer = mintActor({ userId: `dealer:${dealerId}`, name: "Counter", role: "dealer", dealerId });
    const claims = [
      { kind: "freight" },
      { kind: "labour", operation: "take-in", minutes: 10 + (index % 4) * 3 },
      ...(index % 3 === 0 ? [{ kind: "labour", operation: "pack-for-carrier", minutes: 20 }] : []),
    ];
    for (const claim of claims) {
      const claimed = await claimMoney(
        dealer,
        claimSchema.parse({ clientKey: randomUUID(), reference, ...claim }),
        lodgedAt,
      );
      if (!claimed.ok) continue;
      const move = { lineId: claimed.lineId, reason: "" };
      await moveLine(finance, { ...move, name: "check", seenVersion: 1 }, lodgedAt);
      await moveLine(finance, { ...move, name: "approve", seenVersion: 2 }, lodgedAt);
    }
  }
}
