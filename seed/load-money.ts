import { randomUUID } from "node:crypto";
import { mintActor } from "@/lib/access/actor";
import { toDateColumn } from "@/lib/data/calendar-columns";
import { asSystem } from "@/lib/data/database";
import { claimMoney } from "@/lib/data/money/settlement-claims";
import { moveLine } from "@/lib/data/money/settlement-moves";
import { closeStatement } from "@/lib/data/money/settlement-statements";
import { queueNotice } from "@/lib/data/notices/notices";
import { termColumns } from "@/lib/data/warranty/policy-columns";
import { claimSchema } from "@/lib/settlement/claim.schema";
import { calendarDate } from "@/lib/warranty/calendar";
import { warrantyPolicySchema } from "@/lib/warranty/policy.schema";
import type { StoryCalendar } from "./scenario/story-calendar";

/** Invented rates: an hour of labour and the freight of a return, in the smallest unit of the currency. */
const rates = [
  ["DE", "EUR", 6200, 3500],
  ["AT", "EUR", 6000, 3900],
  ["NL", "EUR", 6400, 3700],
  ["FR", "EUR", 5900, 4100],
  ["ES", "EUR", 4800, 4300],
  ["PT", "EUR", 4600, 4400],
  ["GB", "GBP", 5400, 3200],
  ["US", "USD", 9000, 6500],
  ["AU", "AUD", 11000, 7200],
  ["IN", "INR", 90_000, 140_000],
] as const;

const finance = mintActor({ userId: "set-up-finance", name: "Finance (set-up)", role: "finance", dealerId: null });

/** Somebody else than whoever checked: a line in another currency than the limit needs two. */
const manager = mintActor({ userId: "set-up-manager", name: "Manager (set-up)", role: "manager", dealerId: null });

/** Rates, some claims on decided returns at every step of their way, a statement, what the dealers were told, and a proposal. */
export async function loadMoney(at: StoryCalendar): Promise<void> {
  const proposedFrom = at("2027-01-01");
  const setAt = new Date("2025-01-02T09:00:00Z");
  const decided = await asSystem(async (tx) => {
    await tx.settlementRate.createMany({
      data: rates.flatMap(([country, currency, labour, freight]) =>
        (["labour", "freight"] as const).map((kind) => ({
          kind,
          country,
          currency,
          amountMinor: kind === "labour" ? labour : freight,
          validFrom: toDateColumn(calendarDate("2025-01-01")),
          setByUserId: finance.userId,
          setByName: finance.name,
          setAt,
        })),
      ),
    });
    await tx.warrantyPolicy.create({
      data: {
        ...termColumns(
          warrantyPolicySchema.parse({
            version: proposedFrom.slice(0, 7),
            validFrom: proposedFrom,
            months: 24,
            graceDays: 7,
            leapDay: "march-1",
            weekendEnd: "next-working-day",
            stockAgeCapMonths: 12,
            replacementRule: "minimum",
            minimumDays: 90,
            clockStop: "while-with-us",
          }),
        ),
        why: "Customers lose time while we examine their pack; a week of grace saves more argument than it costs.",
        proposedByUserId: "set-up-manager",
        proposedByName: "Manager (set-up)",
        proposedAt: setAt,
      },
    });
    return tx.return.findMany({
      where: { decision: { isNot: null } },
      select: { id: true, reference: true, dealerId: true, lodgedAt: true },
      orderBy: { lodgedAt: "desc" },
      take: 12,
    });
  });
  for (const [index, { id, reference, dealerId, lodgedAt }] of decided.entries()) {
    const dealer = mintActor({ userId: `dealer:${dealerId}`, name: "Counter", role: "dealer", dealerId });
    const claim = claimSchema.parse({
      clientKey: randomUUID(),
      reference,
      kind: index % 3 === 2 ? "freight" : "labour",
      operation: index % 3 === 2 ? "" : "take-in",
      minutes: index % 3 === 2 ? 0 : 15,
    });
    const claimed = await claimMoney(dealer, claim, lodgedAt);
    await asSystem((tx) =>
      queueNotice(tx, { kind: "decided", reference, returnId: id, occasion: "decided", to: { dealerId } }),
    );
    if (!claimed.ok) continue;
    const move = { lineId: claimed.lineId, reason: "" };
    if (index % 4 === 0) continue;
    await moveLine(finance, { ...move, name: "check", seenVersion: 1 }, lodgedAt);
    if (index % 4 === 1) continue;
    await moveLine(manager, { ...move, name: "approve", seenVersion: 2 }, lodgedAt);
    if (index === 2 || index === 3) await closeStatement(finance, dealerId, await currencyOf(claimed.lineId), lodgedAt);
  }
}

async function currencyOf(lineId: string): Promise<string> {
  const line = await asSystem((tx) =>
    tx.settlementLine.findUniqueOrThrow({ where: { id: lineId }, select: { currency: true } }),
  );
  return line.currency;
}
