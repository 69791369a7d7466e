import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { judgeEntry } from "@/lib/bench-tests/judge-entry";
import type { ResultEntry, WaiverEntry } from "@/lib/bench-tests/result-entry.schema";
import { type DatedMove, testRound } from "@/lib/bench-tests/test-rounds";
import { testStandings } from "@/lib/bench-tests/test-standing";
import type { Verdict } from "@/lib/bench-tests/verdict";
import { testStops, whatStopsTest } from "@/lib/bench-tests/what-stops-a-test";
import { readReturnReference } from "@/lib/returns/return-reference";
import { civilDateAt } from "@/lib/warranty/place-of-sale";
import { asActor, type Transaction } from "../database";
import { type LoadedStanding, loadStanding } from "../returns/return-standing";
import { lockPack } from "../returns/track-rows";
import { breaksUnique } from "../unique-violation";
import { readBenchFacts, readPlanOfReturn } from "./bench-facts";
import { readKeptTests } from "./bench-test-facts";
import { BENCH_ZONE, readInstruments } from "./instruments";
import type { PlanForTests } from "./test-plan-rows";

export type BenchTestAnswer =
  | { readonly ok: true; readonly verdict?: Verdict }
  | { readonly ok: false; readonly reason: string; readonly field: string; readonly sentence: string };

/**
 * Keeps the result of a test, judged by the limits of its plan, or says at which field why not: load, decide, save in one
 * transaction with the pack locked, so that nobody destroys a pack while another sets it apart.
 */
export function recordTestResult(actor: Actor, entry: ResultEntry, now = new Date()): Promise<BenchTestAnswer> {
  const act = entry.purpose === "retest" ? "work-on-pack" : "test-pack";
  return atTheBench(actor, act, entry, now, async (tx, loaded, plan) => {
    const test = plan.tests.find(({ key }) => key === entry.testKey);
    if (test === undefined) return refuse("no-such-test", "form", "The plan holds no such test. Load the page again.");
    const kept = await readKeptTests(tx, loaded.row.id);
    const round = { purpose: entry.purpose, since: beganAt(loaded) };
    const standings = testStandings(plan.tests, kept.results, kept.waivers, round);
    const stop = whatStopsTest(test, await readBenchFacts(tx, loaded, entry.purpose, standings));
    if (stop !== null) return refuse(stop, "form", testStops[stop]);
    const corrected = entry.correctsId;
    if (corrected !== null && !kept.results.some(({ id, testKey }) => id === corrected && testKey === test.key)) {
      return refuse("no-such-result", "form", "The result to correct is not one of this test.");
    }
    const judged = judgeEntry(test, entry, await readInstruments(tx), civilDateAt(now, BENCH_ZONE));
    if (judged.kind === "refused") return refuse("entry", judged.field, judged.sentence);
    const { reading } = judged;
    await tx.testResult.create({
      data: {
        returnId: loaded.row.id,
        planId: plan.id,
        testKey: test.key,
        purpose: entry.purpose,
        verdict: reading.verdict,
        ...(reading.kind === "look"
          ? { seen: reading.seen }
          : {
              value: reading.value,
              unit: reading.unit,
              expandedUncertainty: reading.expandedUncertainty,
              lower: reading.limits.lower,
              upper: reading.limits.upper,
              calibrationId: reading.calibration.id,
            }),
        ambientC: entry.ambientC,
        note: entry.note ?? "",
        leaveToDestroy: test.isDestructive ? entry.leaveToDestroy : null,
        correctsId: corrected,
        byUserId: actor.userId,
        byName: actor.name,
        at: now,
      },
    });
    return { ok: true, verdict: reading.verdict };
  });
}

/** Leaves a mandatory test out, with the reason; it may still be made later and then counts. */
export function waiveTest(actor: Actor, waiver: WaiverEntry, now = new Date()): Promise<BenchTestAnswer> {
  return atTheBench(actor, "test-pack", waiver, now, async (tx, loaded, plan) => {
    const test = plan.tests.find(({ key }) => key === waiver.testKey);
    if (test === undefined) return refuse("no-such-test", "form", "The plan holds no such test. Load the page again.");
    if (loaded.standing.status !== "under-test") {
      return refuse("not-on-the-bench", "form", testStops["not-on-the-bench"]);
    }
    if (!test.isMandatory)
      return refuse("not-mandatory", "form", "This test need not be made: nothing has to be said.");
    await tx.testWaiver.create({
      data: {
        returnId: loaded.row.id,
        planId: plan.id,
        testKey: test.key,
        why: waiver.why,
        byUserId: actor.userId,
        byName: actor.name,
        at: now,
      },
    });
    return { ok: true };
  });
}

/** When the tests of this round began; the pack may never have come to the bench. */
export function beganAt({ row }: { readonly row: { readonly moves: readonly DatedMove[] } }): Date | null {
  return testRound(row.moves).testsBeganAt;
}

async function atTheBench(
  actor: Actor,
  act: "test-pack" | "work-on-pack",
  asked: { readonly reference: string; readonly planId: string },
  now: Date,
  run: (tx: Transaction, loaded: LoadedStanding, plan: PlanForTests) => Promise<BenchTestAnswer>,
): Promise<BenchTestAnswer> {
  const reading = readReturnReference(asked.reference);
  if (reading.kind !== "reference" || !may(actor, act)) return notFound;
  try {
    return await asActor(actor, async (tx) => {
      const found = await tx.return.findUnique({
        where: { reference: reading.reference },
        select: { packId: true },
      });
      if (found === null) return notFound;
      await lockPack(tx, found.packId);
      const loaded = await loadStanding(tx, reading.reference, now);
      if (loaded === null) return notFound;
      const plan = await readPlanOfReturn(tx, loaded, now);
      if (plan === null) return refuse("no-plan", "form", "There is no approved test plan for this pack yet.");
      if (plan.id !== asked.planId) {
        return refuse("other-plan", "form", "Another version of the plan holds now. Load the page again.");
      }
      return run(tx, loaded, plan);
    });
  } catch (error) {
    if (!breaksUnique(error, "TestResult_correctsId_key")) throw error;
    return refuse("corrected-already", "form", "Somebody corrected this result already. Look again.");
  }
}

const notFound: BenchTestAnswer = {
  ok: false,
  reason: "not-found",
  field: "form",
  sentence: "There is no such return for you.",
};

function refuse(reason: string, field: string, sentence: string): BenchTestAnswer {
  return { ok: false, reason, field, sentence };
}
