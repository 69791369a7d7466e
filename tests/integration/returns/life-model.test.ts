import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import { asSystem } from "@/lib/data/database";
import { setRate } from "@/lib/data/money/settlement-rates";
import { checkHistory, sha256 } from "@/lib/data/returns/history";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { trackEntry } from "@/lib/data/returns/track-rows";
import { custodyPlaces, readCustodyPlace } from "@/lib/returns/custody-track";
import type { Decision } from "@/lib/returns/decision.schema";
import { readHoldState } from "@/lib/returns/legal-hold";
import { type MoveName, moveNames } from "@/lib/returns/move-names";
import { remedyStates } from "@/lib/returns/remedy-track";
import { readSafetyState, safetyStates } from "@/lib/returns/safety-track";
import { verifyHistory } from "@/lib/returns/verify-history";
import { rateSchema } from "@/lib/settlement/claim.schema";
import { approveSmallFleetPlan, layOutInstruments } from "@/tests/support/bring-to-bench";
import { takeAndDecide } from "@/tests/support/decide-return";
import { BenchWork, benchWorks } from "@/tests/support/life-model/bench-work";
import { CaseMove } from "@/tests/support/life-model/case-move";
import { Flag, Hold, Scan } from "@/tests/support/life-model/pack-steps";
import { Money, moneySteps, Promised } from "@/tests/support/life-model/promises";
import { SendOff } from "@/tests/support/life-model/send-off";
import { Keep, Workshop, workshopSteps } from "@/tests/support/life-model/workshop";
import { type Belief, mandatory, people, type Real, type Who, type World } from "@/tests/support/life-model/world";
import { declareForSending } from "@/tests/support/pack-for-sending";
import { packInStore } from "@/tests/support/pack-in-store";
import { createSmallFleet, filledForm } from "@/tests/support/small-fleet";
import { withTestDatabase } from "@/tests/support/test-database";

withTestDatabase();

let world: World;
let nextPack = 0;
beforeAll(async () => {
  const fleet = await createSmallFleet({ packs: 12 + 8 * (seeds.length + 1) });
  // Two mandatory tests, so that chance comes past them; a longer list is tried in tests/integration/bench-tests.
  const planId = await approveSmallFleetPlan(mandatory, ["opened"]);
  await layOutInstruments(fleet, "2099-12-31");
  await setRate(
    fleet.finance,
    rateSchema.parse({ kind: "labour", country: "DE", currency: "EUR", amount: "62", validFrom: "2026-01-01" }),
  );
  const last = fleet.others.at(-1) ?? fleet.unsold;
  const lodged = await lodgeReturn(fleet.berlin, filledForm(last), new Date("2026-10-05T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  await takeAndDecide(fleet, lodged.reference, {
    remedy: "replace",
    confirmedFault: "weak-cell",
    reason: "Group 7 holds two thirds of the others.",
    replacementRevisionCode: "QP-B",
  });
  const rival = lodged.reference;
  world = {
    fleet,
    planId,
    rival,
    units: [],
    keptFor: new Map(),
    handedOver: new Set(),
    approvedReversals: new Set(),
    made: new Set(),
  };
});

const who = fc.constantFrom(...people);
const remedy = fc.constantFrom<Decision["remedy"]>(
  "repair",
  "replace",
  "refund",
  "return-as-is",
  "isolate",
  "dispose",
  "refuse",
);
type Command = fc.AsyncCommand<Belief, Real>;

const weighted = <One extends Command>(weight: number, arbitrary: fc.Arbitrary<One>) => ({
  weight,
  arbitrary: arbitrary as fc.Arbitrary<Command>,
});

const anything: fc.Arbitrary<Command> = fc.oneof(
  weighted(
    6,
    fc
      .tuple(who, fc.constantFrom(...moveNames), fc.nat(9), remedy)
      .map(([person, name, luck, chosen]) => new CaseMove(person, name, luck === 0, chosen)),
  ),
  weighted(
    3,
    fc.tuple(who, fc.constantFrom(...benchWorks)).map(([person, work]) => new BenchWork(person, work)),
  ),
  weighted(
    4,
    fc.tuple(who, fc.constantFrom(...workshopSteps)).map(([person, step]) => new Workshop(person, step)),
  ),
  weighted(
    2,
    fc
      .tuple(who, fc.constantFrom<Keep["act"]>("keep", "give-up"), fc.boolean(), fc.nat(2))
      .map(([person, act, forRival, back]) => new Keep(person, act, forRival, back)),
  ),
  weighted(
    3,
    fc.tuple(who, fc.constantFrom(...remedyStates)).map(([person, to]) => new Promised(person, to)),
  ),
  weighted(
    3,
    fc.tuple(who, fc.constantFrom(...moneySteps)).map(([person, step]) => new Money(person, step)),
  ),
  weighted(
    1,
    fc.tuple(who, fc.constantFrom(...safetyStates)).map(([person, to]) => new Flag(person, to)),
  ),
  weighted(
    1,
    fc.tuple(who, fc.constantFrom(...custodyPlaces)).map(([person, to]) => new Scan(person, to)),
  ),
  weighted(
    1,
    fc.tuple(who, fc.constantFrom("held" as const, "none" as const)).map(([person, to]) => new Hold(person, to)),
  ),
);

/** The usual way with one decision, with illegal steps in it: chance alone would hardly come past the first step. */
function usualWay(chosen: Decision["remedy"]): Command[] {
  const move = (person: Who, name: MoveName) => new CaseMove(person, name, false, chosen);
  const bench = (work: BenchWork["work"], person: Who = "bench") => new BenchWork(person, work);
  return [
    move("bench", "take"),
    move("lead", "approve-return"),
    move("berlin", "hand-to-carrier"),
    move("bench", "receive"),
    ...madeSafe(),
    move("bench", "start-test"),
    move("bench", "propose"),
    bench("look"),
    bench("measure"),
    move("bench", "propose"),
    bench("code"),
    bench("destroy"),
    ...(chosen === "return-as-is" ? [move("bench", "propose"), bench("find-nothing", "lead")] : []),
    move("bench", "propose"),
    move("lead", "approve"),
    ...letterGiven(move),
    ...madeSafe(),
    ...afterwards(chosen, move),
    move("berlin", "object"),
  ];
}

/** Decided anew after an objection, by people who had no part in the decision before as far as there are any. */
function decidedAnew(chosen: Decision["remedy"]): Command[] {
  const move = (person: Who, name: MoveName) => new CaseMove(person, name, false, chosen);
  return [
    ...madeSafe(),
    move("bench2", "propose"),
    move("bench", "propose"),
    move("lead", "approve"),
    ...madeSafe(),
    move("manager", "approve"),
    move("manager", "approve-as-second"),
    move("manager2", "approve-as-second"),
    ...letterGiven(move),
    ...madeSafe(),
    ...afterwards(chosen, move),
  ];
}

/** The letter of a decision is given once, by the dealer or the bench; others try, and it is tried again. */
function letterGiven(move: (person: Who, name: MoveName) => Command): Command[] {
  return [
    move("sydney", "give-letter"),
    move("manager", "give-letter"),
    move("berlin", "give-letter"),
    move("bench2", "give-letter"),
  ];
}

/** The safety officer and the manager take away what chance has laid on the pack. */
function madeSafe(): Command[] {
  return [
    new Flag("safetyOfficer", "incident-closed"),
    new Flag("safetyOfficer", "normal"),
    new Hold("manager", "none"),
  ];
}

function afterwards(chosen: Decision["remedy"], move: (person: Who, name: MoveName) => Command): Command[] {
  const inWorkshop = (person: Who, step: Workshop["step"]) => new Workshop(person, step);
  const promised = (person: Who, to: Promised["to"]) => new Promised(person, to);
  const money = (person: Who, step: Money["step"]) => new Money(person, step);
  switch (chosen) {
    case "repair":
      return [
        move("bench", "start-work"),
        inWorkshop("bench", "work"),
        inWorkshop("bench2", "measure-bad"),
        inWorkshop("bench", "look-again"),
        inWorkshop("bench2", "release"),
        inWorkshop("bench", "measure-again"),
        inWorkshop("bench", "release"),
        move("bench", "finish-work"),
        inWorkshop("bench2", "release"),
        inWorkshop("bench", "work"),
        move("bench", "finish-work"),
        move("berlin", "hand-back"),
        new SendOff(),
        move("berlin", "hand-back"),
      ];
    case "replace":
      return [
        new Keep("bench", "keep", false, 0),
        new Keep("bench2", "keep", true, 0),
        new Keep("bench2", "keep", false, 1),
        promised("bench", "offered"),
        promised("berlin", "chosen"),
        promised("bench", "sent"),
        move("bench", "start-work"),
        move("lead", "finish-work"),
        move("berlin", "hand-back"),
        new SendOff(),
        move("berlin", "hand-back"),
        new Keep("bench2", "keep", true, 0),
      ];
    case "refund":
      return [
        promised("bench", "offered"),
        promised("bench", "refund-agreed"),
        promised("bench", "refund-paid"),
        promised("finance", "refund-paid"),
        promised("berlin", "objected"),
        promised("finance", "refund-paid"),
        money("berlin", "claim"),
        money("finance", "check"),
        money("manager", "approve"),
        money("finance", "close"),
        money("finance", "pay"),
        money("finance", "pay-otherwise"),
        money("finance", "close"),
        move("bench", "ready-without-work"),
        move("berlin", "hand-back"),
      ];
    case "refuse":
      return [
        promised("bench", "refused"),
        move("bench", "ready-without-work"),
        promised("bench2", "refused"),
        new SendOff(),
        move("berlin", "hand-back"),
      ];
    default:
      return [
        move("bench", "start-work"),
        move("bench", "ready-without-work"),
        new SendOff(),
        move("berlin", "hand-back"),
      ];
  }
}

/** Money that is claimed, refused, claimed anew, paid, taken back by two and claimed once more. */
function disputed(): Command[] {
  const money = (person: Who, step: Money["step"]) => new Money(person, step);
  return [
    money("berlin", "claim"),
    money("finance", "check"),
    money("manager", "refuse"),
    money("berlin", "claim"),
    money("finance", "check"),
    money("manager", "approve"),
    money("finance", "close"),
    money("finance", "pay"),
    money("finance", "reverse"),
    money("finance", "reverse"),
    // Claimed alone it gives nothing free, and refused it may be claimed once more.
    money("berlin", "claim"),
    money("manager", "refuse-reversal"),
    money("berlin", "claim"),
    money("finance", "reverse"),
    money("finance", "check-reversal"),
    money("finance", "approve-reversal"),
    money("berlin", "claim"),
    money("manager", "approve-reversal"),
    money("berlin", "claim"),
    money("berlin", "claim"),
    money("finance", "close"),
  ];
}

/** Lodged twice for one complaint: the other return goes on, and this one moves no more. */
function mergedWay(): Command[] {
  const move = (person: Who, name: MoveName) => new CaseMove(person, name, false, "repair");
  return [
    move("berlin", "merge"),
    move("bench", "take"),
    ...madeSafe(),
    move("bench2", "merge"),
    move("lead", "approve-return"),
    move("bench", "propose"),
    move("berlin", "withdraw"),
    move("bench2", "merge"),
  ];
}

/** The usual way with, before every second step or so, one other command. */
const withChance = (way: readonly Command[]) =>
  fc
    .tuple(...way.map((step) => fc.array(anything, { maxLength: 1 }).map((before) => [...before, step])))
    .map((parts) => parts.flat());

/** What has to have been done on the way there: a run that goes nowhere proves nothing. */
const done: readonly (readonly [string, readonly Command[], readonly string[]])[] = [
  [
    "repair",
    usualWay("repair"),
    ["start-test", "propose from under-test", "approve", "work", "measure-bad", "release", "finish-work"],
  ],
  ["replace", usualWay("replace"), ["keep", "start-work", "hand-back"]],
  ["refund", usualWay("refund"), ["give-letter 1", "refund-paid", "approve", "pay", "ready-without-work"]],
  ["return-as-is", usualWay("return-as-is"), ["find-nothing", "ready-without-work", "object"]],
  [
    "refund, and more of it after an objection",
    [...usualWay("refund"), ...decidedAnew("refund")],
    ["refund 2", "give-letter 2", "object", "propose from in-review", "hand-back after refund"],
  ],
  [
    "return-as-is, money disputed, and a refusal after an objection",
    [...usualWay("return-as-is"), ...disputed(), ...decidedAnew("refuse")],
    [
      "refuse",
      "refuse-reversal",
      "approve-reversal",
      "claim 3",
      "object",
      "propose from in-review",
      "approve-as-second",
      "give-letter 2",
      "refused",
      "hand-back after refuse",
    ],
  ],
  ["merge", mergedWay(), ["merge"]],
];

/**
 * The seed the ways were looked at with; LIFE_SEEDS names others for a longer run, parted by commas. "today" is the day as a number,
 * as the daily check asks for it: it stands in the name of every walk, so a failure says with which number it is walked again.
 */
const SEED = 20261125;
const seedOf = (named: string) =>
  named === "today" ? Number(new Date().toISOString().slice(0, 10).replaceAll("-", "")) : Number(named);
const seeds = (process.env.LIFE_SEEDS ?? "").split(",").filter(Boolean).map(seedOf);
const walks = [SEED, ...seeds].flatMap((seed) => done.map(([name, way, steps]) => ({ name, seed, way, steps })));
/** What was done on a way with any of the other seeds: chance may end one walk early, not all of them. */
const everMade = new Map<string, Set<string>>();

test.each(walks)(
  "whoever does whatever on the way to $name (seed $seed): no forbidden state, nothing lost, nothing twice",
  {
    timeout: 240_000,
  },
  async ({ name, seed, way, steps }) => {
    world.made.clear();
    const walked = (run: Command[]) => walk(run, name === "merge");
    await fc.assert(fc.asyncProperty(withChance(way), walked), { numRuns: 1, seed, endOnFailure: true });
    if (seed === SEED) expect([...world.made]).toEqual(expect.arrayContaining([...steps]));
    everMade.set(name, new Set([...(everMade.get(name) ?? []), ...world.made]));
  },
);

test("over all seeds every way was walked to its end", () => {
  for (const [name, , steps] of done)
    expect([...(everMade.get(name) ?? [])], name).toEqual(expect.arrayContaining([...steps]));
});

async function walk(run: Command[], isLodgedTwice: boolean): Promise<void> {
  const { fleet } = world;
  const serial = fleet.others[nextPack++];
  if (serial === undefined) throw new Error("no pack");
  world.units.push(await packInStore("QP-B", world.units.length + 1));
  const lodged = await lodgeReturn(fleet.berlin, filledForm(serial), new Date("2026-10-05T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  await declareForSending(fleet.lead, reference, new Date());
  const twin = isLodgedTwice ? await lodgedUnderItsReplacement(serial) : null;
  const belief = await freshBelief(reference);
  await fc.asyncModelRun(() => ({ model: belief, real: { world, reference, serial, twin } }), run);
  await expectNothingBroken(reference, belief);
  await expectNothingTwice();
}

/** The same complaint once more, under a pack that came to the customer in place of the first. */
async function lodgedUnderItsReplacement(serial: string): Promise<string> {
  const { fleet } = world;
  const other = fleet.others[nextPack++];
  if (other === undefined) throw new Error("no pack");
  await asSystem(async (tx) => {
    const { id: oldPackId } = await tx.pack.findUniqueOrThrow({ where: { serial }, select: { id: true } });
    const { id: newPackId } = await tx.pack.findUniqueOrThrow({ where: { serial: other }, select: { id: true } });
    const deliveredOn = new Date("2026-09-01");
    await tx.replacement.createMany({ data: [{ oldPackId, newPackId, deliveredOn }] });
  });
  const lodged = await lodgeReturn(fleet.berlin, filledForm(other), new Date("2026-10-05T09:00:00Z"));
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  return lodged.reference;
}

async function standing(reference: string) {
  return asSystem((tx) =>
    tx.return.findUniqueOrThrow({
      where: { reference },
      select: {
        status: true,
        version: true,
        lastMoveHash: true,
        moves: { orderBy: { sequence: "asc" } },
        tracks: { include: { moves: { orderBy: { sequence: "asc" } } } },
        pack: { select: { tracks: { include: { moves: { orderBy: { sequence: "asc" } } } } } },
      },
    }),
  );
}

async function freshBelief(reference: string): Promise<Belief> {
  const { pack } = await standing(reference);
  const track = (name: string) => pack.tracks.find((one) => one.track === name);
  return {
    status: "sent-in",
    version: 1,
    safety: readSafetyState(track("safety")?.state ?? "normal"),
    safetyVersion: track("safety")?.version ?? 0,
    custody: readCustodyPlace(track("custody")?.state ?? "with-dealer"),
    custodyVersion: track("custody")?.version ?? 0,
    hold: readHoldState(track("hold")?.state ?? "none"),
    holdVersion: track("hold")?.version ?? 0,
    openTests: [],
    isCoded: false,
    mayFindNothing: false,
    proposed: null,
    decided: null,
    workers: [],
    retest: new Map(),
    isReleased: false,
    hasLetter: false,
    lettersGiven: 0,
    remedy: "none-yet",
    remedyVersion: 0,
    isPaidUnderDecision: false,
    refundsPaid: 0,
    claims: 0,
    line: null,
  };
}

async function expectNothingBroken(reference: string, belief: Belief): Promise<void> {
  const after = await standing(reference);
  expect([after.status, after.version]).toEqual([belief.status, belief.version]);
  expect(checkHistory(after.moves, after.lastMoveHash)).toMatchObject({ kind: "sound", rows: belief.version });
  for (const { id, moves, lastHash, version, state, track: name } of [...after.pack.tracks, ...after.tracks]) {
    const rows = moves.map((row) => ({ ...trackEntry(id, row), ...chainOf(row) }));
    expect(verifyHistory(rows, sha256, lastHash), name).toMatchObject({ kind: "sound", rows: version });
    expect(state).toBe(moves.at(-1)?.to);
  }
}

/** Asked of the tables themselves: what the functions answered does not count here. */
async function expectNothingTwice(): Promise<void> {
  const found = await asSystem(async (tx) => ({
    unitsKeptTwice: await tx.$queryRaw`
      SELECT "packId" FROM "UnitReservation" WHERE "endedAt" IS NULL OR "ending" = 'handed-over'
      GROUP BY "packId" HAVING count(*) > 1`,
    releasedByAWorker: await tx.$queryRaw`
      SELECT r."id" FROM "PackRelease" r JOIN "WorkEntry" w USING ("decisionId") WHERE w."byUserId" = r."byUserId"`,
    // A complaint is paid back its greatest decided refund at most, however often it was decided.
    refundedBeyondAnyDecision: await tx.$queryRaw`
      SELECT p."id" FROM (
        SELECT COALESCE(r."mergedIntoId", r."id") AS "id", sum((m."facts"->>'paidMinor')::int) AS "paid"
        FROM "TrackMove" m JOIN "Track" t ON t."id" = m."trackId" JOIN "Return" r ON r."id" = t."returnId"
        WHERE t."track" = 'remedy' AND m."to" = 'refund-paid' GROUP BY 1) p
      WHERE p."paid" IS NULL OR p."paid" > (
        SELECT COALESCE(max(d."refundMinor"), 0) FROM "Decision" d JOIN "Return" r ON r."id" = d."returnId"
        WHERE r."id" = p."id" OR r."mergedIntoId" = p."id")`,
    linesPaidTwice: await tx.$queryRaw`
      SELECT COALESCE(r."mergedIntoId", r."id"), l."kind", l."operation"
      FROM "SettlementPayment" p JOIN "SettlementLine" l ON l."id" = p."lineId" JOIN "Return" r ON r."id" = l."returnId"
      WHERE l."kind" <> 'reversal' AND l."reversedAt" IS NULL
      GROUP BY 1, 2, 3 HAVING count(*) > 1`,
    // Money and a pack, or two packs, under one complaint: never without a word on what comes back.
    givenTwiceInSilence: await tx.$queryRaw`
      SELECT g."id" FROM (
        SELECT COALESCE(r."mergedIntoId", r."id") AS "id" FROM "UnitReservation" u JOIN "Return" r ON r."id" = u."returnId"
        WHERE u."ending" = 'handed-over'
        UNION ALL
        SELECT DISTINCT COALESCE(r."mergedIntoId", r."id") FROM "TrackMove" m JOIN "Track" t ON t."id" = m."trackId"
        JOIN "Return" r ON r."id" = t."returnId" WHERE m."to" = 'refund-paid' AND (m."facts"->>'paidMinor')::int > 0) g
      WHERE NOT EXISTS (SELECT 1 FROM "Decision" d JOIN "Return" r ON r."id" = d."returnId"
        WHERE d."comesBack" IS NOT NULL AND (r."id" = g."id" OR r."mergedIntoId" = g."id"))
      GROUP BY 1 HAVING count(*) > 1`,
    // Each decision has one letter, and one day from which the time to object runs.
    lettersGivenTwice: await tx.$queryRaw`
      SELECT l."returnId" FROM (
        SELECT m."returnId", m."move",
          sum(CASE WHEN m."to" = 'decided' AND m."move" LIKE 'approve%' THEN 1 ELSE 0 END)
            OVER (PARTITION BY m."returnId" ORDER BY m."sequence") AS "decision"
        FROM "ReturnMove" m) l
      WHERE l."move" = 'give-letter' GROUP BY l."returnId", l."decision" HAVING count(*) > 1`,
    statementsPaidOtherwise: await tx.$queryRaw`
      SELECT s."number" FROM "SettlementStatement" s
      LEFT JOIN (SELECT "statementId", sum("amountMinor") AS "paid" FROM "SettlementPayment" GROUP BY 1) p
        ON p."statementId" = s."id"
      WHERE s."paidAt" IS NOT NULL AND p."paid" IS DISTINCT FROM s."totalMinor"`,
  }));
  expect(found).toEqual({
    unitsKeptTwice: [],
    releasedByAWorker: [],
    refundedBeyondAnyDecision: [],
    linesPaidTwice: [],
    givenTwiceInSilence: [],
    lettersGivenTwice: [],
    statementsPaidOtherwise: [],
  });
}

function chainOf({ previousHash, hash }: { previousHash: string; hash: string }) {
  return { previousHash, hash, form: "track-history-1" as const };
}
