import { randomUUID } from "node:crypto";
import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import type { Actor } from "@/lib/access/actor";
import { verifyEveryChain } from "@/lib/data/chains/verify-chains";
import { asSystem } from "@/lib/data/database";
import { claimMoney } from "@/lib/data/money/settlement-claims";
import { moveLine } from "@/lib/data/money/settlement-moves";
import { setRate } from "@/lib/data/money/settlement-rates";
import { closeStatement, payStatement } from "@/lib/data/money/settlement-statements";
import { claimSchema, rateSchema } from "@/lib/settlement/claim.schema";
import { approveSmallFleetPlan, bringToBench, layOutInstruments } from "@/tests/support/bring-to-bench";
import { createSmallFleet, type SmallFleet } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

// Random money of random people: two dealers in two currencies, work and freight of one return each. In
// tests/integration/returns/life-model.test.ts the same is walked beside a whole life, of one dealer and one kind.

withTestDatabase();

const now = new Date("2026-10-05T09:00:00Z");
const people = ["berlin", "sydney", "bench", "lead", "manager", "manager2", "finance", "safetyOfficer"] as const;
const deeds = ["claim", "check", "approve", "refuse", "close", "pay", "pay-otherwise", "reverse"] as const;
const reversalDeeds = ["check-reversal", "approve-reversal", "refuse-reversal"] as const;
type Deed = (typeof deeds)[number] | (typeof reversalDeeds)[number];
const kinds = ["labour", "freight"] as const;

interface Step {
  readonly who: (typeof people)[number];
  readonly deed: Deed;
  readonly of: number;
  readonly kind: (typeof kinds)[number];
}

interface Place {
  readonly dealer: Actor;
  readonly reference: string;
  readonly currency: string;
}

let fleet: SmallFleet;
let places: Place[];
beforeAll(async () => {
  fleet = await createSmallFleet();
  await approveSmallFleetPlan();
  await layOutInstruments(fleet);
  for (const [country, currency] of [
    ["DE", "EUR"],
    ["AU", "AUD"],
  ])
    for (const kind of kinds)
      await setRate(
        fleet.finance,
        rateSchema.parse({ kind, country, currency, amount: "62", validFrom: "2026-01-01" }),
      );
});

let packsTaken = 0;
/** A return at the bench for each dealer: money of an earlier walk would leave nothing to claim. */
async function freshReturns(): Promise<Place[]> {
  const brought = async (dealer: Actor, currency: string): Promise<Place> => {
    const serial = fleet.others[packsTaken++] ?? fleet.unsold;
    return { dealer, currency, reference: await bringToBench(fleet, serial, now, dealer) };
  };
  return [await brought(fleet.berlin, "EUR"), await brought(fleet.sydney, "AUD")];
}

/** One line from its claim to its payment, taken back by two, claimed once more and paid again. */
const wayOfALine = (dealer: "berlin" | "sydney"): readonly (readonly [Step["who"], Deed])[] => {
  const paid = [
    [dealer, "claim"],
    ["finance", "check"],
    ["manager", "approve"],
    ["finance", "close"],
    ["finance", "pay"],
  ] as const;
  const back = [
    ["finance", "reverse"],
    ["finance", "check-reversal"],
    ["manager", "approve-reversal"],
  ] as const;
  return [...paid, ...back, ...paid];
};
const ways: readonly (readonly Step[])[] = (["berlin", "sydney"] as const).flatMap((dealer, of) =>
  kinds.map((kind) => wayOfALine(dealer).map(([who, deed]) => ({ who, deed, of, kind }))),
);

const anything: fc.Arbitrary<Step> = fc.record({
  who: fc.constantFrom(...people),
  deed: fc.constantFrom<Deed>(...deeds, ...reversalDeeds),
  of: fc.nat(1),
  kind: fc.constantFrom(...kinds),
});

/** The four ways shuffled into one another, each in its own order, with other deeds of anybody between them. */
const mixed = fc
  .tuple(
    fc.shuffledSubarray(
      ways.flatMap((way, index) => way.map(() => index)),
      { minLength: ways.flat().length },
    ),
    fc.array(fc.option(anything, { freq: 3 }), { minLength: ways.flat().length, maxLength: ways.flat().length }),
  )
  .map(([order, between]) => {
    const next = ways.map((way) => way.values());
    return order.flatMap((index, position) => {
      const step = next[index]?.next().value;
      return [between[position] ?? [], step ?? []].flat();
    });
  });

const SEED = 20261201;
const seeds = (process.env.LIFE_SEEDS ?? "")
  .split(",")
  .filter(Boolean)
  .map((named) => Number(named === "today" ? new Date().toISOString().slice(0, 10).replaceAll("-", "") : named));
const made = new Set<string>();

test.each([SEED, ...seeds])(
  "whoever does whatever with the money of two dealers (seed %i): no line is paid twice, none by its claimer, and sums hold",
  { timeout: 240_000 },
  async (seed) => {
    places = await freshReturns();
    const walk = async (steps: Step[]) => {
      for (const step of steps) if (await take(step)) made.add(`${step.deed} ${step.kind} ${step.of}`);
      await expectPaidOnce();
    };
    await fc.assert(fc.asyncProperty(mixed, walk), { numRuns: 1, seed, endOnFailure: true });
  },
);

test("work and freight of both dealers were paid, and a payment taken back", () => {
  for (const deed of ["pay", "approve-reversal"])
    expect(
      [...made].filter((one) => one.startsWith(`${deed} `)),
      deed,
    ).toEqual(expect.arrayContaining(deed === "pay" ? ["pay labour 0", "pay freight 1"] : [expect.any(String)]));
});

/** Whether the step was made. The line is the newest of its kind and return, its reversal the newest of that. */
async function take({ who, deed, of, kind }: Step): Promise<boolean> {
  const actor = fleet[who];
  const place = places[of];
  if (place === undefined) throw new Error("two returns");
  const { dealer, reference, currency } = place;
  if (deed === "claim") {
    const work = kind === "labour" ? { operation: "take-in", minutes: 20 } : {};
    return (await claimMoney(actor, claimSchema.parse({ clientKey: randomUUID(), reference, kind, ...work }))).ok;
  }
  if (deed === "close") return (await closeStatement(actor, dealer.dealerId ?? "", currency)).ok;
  const line = await asSystem((tx) =>
    tx.settlementLine.findFirst({
      where: { kind, return: { reference } },
      orderBy: { id: "desc" },
      include: { statement: true, reversals: { orderBy: { id: "desc" }, take: 1 } },
    }),
  );
  if (line === null) return false;
  if (deed === "pay" || deed === "pay-otherwise") {
    if (line.statement === null) return false;
    const answer = await payStatement(actor, line.statement.number, `${deed} ${line.statement.number}`);
    if (answer.ok) expect(who).toBe("finance");
    return answer.ok && !answer.repeated;
  }
  const [reversal] = line.reversals;
  const isOfReversal = deed === "check-reversal" || deed === "approve-reversal" || deed === "refuse-reversal";
  const moved = isOfReversal ? reversal : line;
  if (moved === undefined) return false;
  const name = isOfReversal ? moveOfReversal[deed] : deed;
  const asked = { lineId: moved.id, name, seenVersion: moved.version, reason: "Looked at." };
  const { ok } = await moveLine(actor, asked);
  if (ok && name === "approve") expect(actor.userId, "approved by its claimer").not.toBe(moved.claimedByUserId);
  return ok;
}

const moveOfReversal = {
  "check-reversal": "check",
  "approve-reversal": "approve",
  "refuse-reversal": "refuse",
} as const;

async function expectPaidOnce(): Promise<void> {
  const found = await asSystem(async (tx) => ({
    paidTwice: await tx.$queryRaw`
      SELECT l."returnId", l."kind", l."operation" FROM "SettlementPayment" p JOIN "SettlementLine" l ON l."id" = p."lineId"
      WHERE l."kind" <> 'reversal' AND l."reversedAt" IS NULL GROUP BY 1, 2, 3 HAVING count(*) > 1`,
    otherCurrencyOrDealer: await tx.$queryRaw`
      SELECT l."id" FROM "SettlementLine" l JOIN "SettlementStatement" s ON s."id" = l."statementId"
      WHERE l."currency" <> s."currency" OR l."dealerId" <> s."dealerId"`,
    sumsThatDoNotHold: await tx.$queryRaw`
      SELECT s."number" FROM "SettlementStatement" s JOIN "SettlementLine" l ON l."statementId" = s."id"
      GROUP BY s."id" HAVING sum(l."amountMinor") <> s."totalMinor"`,
    ownApproval: await tx.$queryRaw`
      SELECT "id" FROM "SettlementLine" WHERE "approvedByUserId" = "claimedByUserId"`,
  }));
  expect(found).toEqual({ paidTwice: [], otherCurrencyOrDealer: [], sumsThatDoNotHold: [], ownApproval: [] });
  expect((await verifyEveryChain()).broken).toEqual([]);
}
