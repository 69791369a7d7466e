import "server-only";
import {
  type NoFaultEntry,
  type NoFaultStanding,
  noFaultOutcomes,
  noFaultStanding,
  noFaultSteps,
} from "@/lib/bench-tests/no-fault-protocol";
import { testPurposes } from "@/lib/bench-tests/test-definition.schema";
import { type DatedMove, testRound } from "@/lib/bench-tests/test-rounds";
import {
  type KeptResult,
  type KeptWaiver,
  mandatoryTests,
  type TestStanding,
  testStandings,
} from "@/lib/bench-tests/test-standing";
import { verdicts } from "@/lib/bench-tests/verdict";
import type { KnownFacts } from "@/lib/returns/return-facts";
import type { Transaction } from "../database";
import { readDoubts } from "./doubtful-results";
import { readPlanInForce } from "./test-plan-rows";

export interface TestedReturn {
  readonly returnId: string;
  readonly revisionCode: string;
  readonly modelCode: string;
  readonly moves: readonly DatedMove[];
}

/**
 * What the bench knows of a return before a decision is proposed. Without any plan for the pack nobody keeps whether its
 * tests were done, and whoever proposes has to state it.
 */
export async function readBenchTestFacts(
  tx: Transaction,
  { returnId, revisionCode, modelCode, moves }: TestedReturn,
): Promise<Pick<KnownFacts, "tests" | "faultCoding" | "noFaultProtocol">> {
  const round = testRound(moves);
  const began = round.testsBeganAt;
  const standings = await readFindingStandings(tx, { returnId, revisionCode, modelCode, moves });
  const coding = await tx.faultCoding.findFirst({
    where: { returnId, ...(began === null ? {} : { at: { gte: began } }) },
    orderBy: { version: "desc" },
    select: { fault: true },
  });
  return {
    tests: standings === null ? null : mandatoryTests(standings),
    faultCoding: coding === null ? "missing" : coding.fault === "no-fault-found" ? "set-nothing-found" : "set",
    noFaultProtocol: protocolWord(noFaultStanding(await readNoFaultEntries(tx, returnId, round.reviewedAnewAt))),
  };
}

/** Where the tests of the plan stand since the pack last came to the bench; null where it never did, or no plan was in force. */
export async function readFindingStandings(
  tx: Transaction,
  { returnId, revisionCode, modelCode, moves }: TestedReturn,
): Promise<TestStanding[] | null> {
  const began = testRound(moves).testsBeganAt;
  const plan = began === null ? null : await readPlanInForce(tx, { revisionCode, modelCode }, began);
  if (plan === null) return null;
  const { results, waivers } = await readKeptTests(tx, returnId);
  return testStandings(plan.tests, results, waivers, { purpose: "finding", since: began });
}

/** Results and waivers of a return, oldest first. */
export async function readKeptTests(
  tx: Transaction,
  returnId: string,
): Promise<{ readonly results: KeptResult[]; readonly waivers: KeptWaiver[] }> {
  const results = await tx.testResult.findMany({
    where: { returnId },
    orderBy: { at: "asc" },
    select: { id: true, testKey: true, purpose: true, verdict: true, correctsId: true, calibrationId: true, at: true },
  });
  const doubts = results.some(({ calibrationId }) => calibrationId !== null) ? await readDoubts(tx) : null;
  const waivers = await tx.testWaiver.findMany({ where: { returnId }, select: { testKey: true, at: true } });
  return {
    results: results.map(({ purpose, verdict, calibrationId, ...result }) => ({
      ...result,
      isInDoubt: calibrationId !== null && doubts?.has(calibrationId) === true,
      purpose: known(testPurposes, purpose),
      verdict: known(verdicts, verdict),
    })),
    waivers,
  };
}

/** Entries of the protocol in the order they were written, since the return was last opened again. */
export async function readNoFaultEntries(
  tx: Transaction,
  returnId: string,
  since: Date | null,
): Promise<(NoFaultEntry & { readonly note: string; readonly byName: string; readonly at: Date })[]> {
  const rows = await tx.noFaultEntry.findMany({
    where: { returnId, ...(since === null ? {} : { at: { gte: since } }) },
    orderBy: [{ at: "asc" }, { id: "asc" }],
  });
  return rows.map(({ kind, step, outcome, note, byUserId, byName, at }) => ({
    kind: known(["started", "step", "waived"] as const, kind),
    step: step === null ? null : known(noFaultSteps, step),
    outcome: outcome === null ? null : known(noFaultOutcomes, outcome),
    note,
    byUserId,
    byName,
    at,
  }));
}

function protocolWord({ kind }: NoFaultStanding): KnownFacts["noFaultProtocol"] {
  return kind === "not-started" ? "open" : kind;
}

function known<Word extends string>(words: readonly Word[], stored: string): Word {
  const word = words.find((one) => one === stored);
  if (word === undefined) throw new RangeError(`${stored} is unknown to the bench`);
  return word;
}
