import { mintActor } from "@/lib/access/actor";
import { instrumentUncertainty } from "@/lib/bench-tests/calibration";
import { type FoundCode, faultOfCoding, type PartCode } from "@/lib/bench-tests/fault-coding.schema";
import { type TestDefinition, testListSchema } from "@/lib/bench-tests/test-definition.schema";
import { judgeNumber } from "@/lib/bench-tests/verdict";
import { readInstruments } from "@/lib/data/bench-tests/instruments";
import { readPlanInForce } from "@/lib/data/bench-tests/test-plan-rows";
import { asSystem, type Transaction } from "@/lib/data/database";
import type { Person } from "./write-moves";

const HOUR_MS = 3_600_000;
/** Repairs of the past that carry results and coding: enough for the list of similar returns to say something. */
const PAST_RETURNS = 24;

/** What a fault shows at the bench: the test that tells it and by which share of its limit, and how it is coded. */
interface Shows {
  readonly test?: readonly [key: string, shareOfLimit: number];
  readonly found: FoundCode;
  readonly part: PartCode;
}

const shows: Readonly<Record<string, Shows>> = {
  "weak-cell": { test: ["capacity", 0.82], found: "low-capacity", part: "cell" },
  "high-resistance-cell": { test: ["group-resistance", 1.3], found: "high-resistance", part: "cell" },
  "high-resistance-joint": { test: ["group-resistance", 1.45], found: "high-resistance", part: "cell-joint" },
  "self-discharge": { test: ["rest-drift", 2.6], found: "loses-charge", part: "cell" },
  "sense-wire": { found: "jumping-reading", part: "sense-wire" },
  "measurement-fault": { found: "wrong-reading", part: "monitoring-board" },
  "power-stage-fault": { found: "does-not-switch", part: "power-switch" },
  imbalance: { test: ["rest-spread", 2.1], found: "groups-apart", part: "none" },
  "temperature-sensor": { found: "wrong-temperature", part: "temperature-probe" },
  "main-lead": { test: ["load-drop", 1.3], found: "hot-place", part: "main-lead" },
};

/**
 * What was measured at the bench of the scenario: on the packs that lie there now, all but the last mandatory test, and on
 * the last repairs, all of them with the coding of their fault. Written past the program, because the program takes no
 * results for returns that were decided long ago; the verdicts are its own.
 */
export async function loadTestResults(people: ReadonlyMap<string, Person>): Promise<void> {
  const person = [...people.values()].find(({ role }) => role === "technician");
  if (person === undefined) throw new RangeError("the scenario has nobody who is technician");
  const bench = mintActor({ ...person, dealerId: null });
  await asSystem(async (tx) => {
    const returns = await tx.return.findMany({
      where: { moves: { some: { move: "start-test" } } },
      orderBy: { lodgedAt: "desc" },
      take: PAST_RETURNS,
      select: {
        id: true,
        status: true,
        symptom: true,
        moves: { where: { move: "start-test" }, select: { at: true } },
        decision: { select: { confirmedFault: true } },
        pack: { select: { revision: { select: { code: true, model: { select: { code: true } } } } } },
        readingFile: { select: { findings: { orderBy: { rank: "asc" }, take: 1 } } },
      },
    });
    for (const { id, status, symptom, moves, decision, pack, readingFile } of returns) {
      const [begun] = moves;
      const pointed = readingFile?.findings[0];
      const fault = decision?.confirmedFault ?? pointed?.fault ?? "unknown";
      const shown = shows[fault] ?? null;
      if (begun === undefined) continue;
      const by = { returnId: id, byUserId: bench.userId, byName: bench.name };
      const { code, model } = pack.revision;
      const isUnderTest = status === "under-test";
      await writeResults(tx, {
        ...by,
        codes: { revisionCode: code, modelCode: model.code },
        begun: begun.at,
        shown,
        isUnderTest,
      });
      if (isUnderTest) continue;
      const coding = {
        found: shown?.found ?? ("unknown" as const),
        part: shown?.part ?? ("unknown" as const),
        cause: "unknown" as const,
      };
      await tx.faultCoding.create({
        data: {
          ...by,
          ...coding,
          version: 1,
          customerSaw: symptom,
          groups: pointed?.fault === fault ? pointed.groups : [],
          fault: faultOfCoding(coding),
          howSure: shown?.test === undefined ? "likely" : "shown",
          note: "",
          at: new Date(begun.at.getTime() + 2 * HOUR_MS),
        },
      });
    }
  });
}

interface Tested {
  readonly returnId: string;
  readonly byUserId: string;
  readonly byName: string;
  readonly codes: { readonly revisionCode: string; readonly modelCode: string };
  readonly begun: Date;
  readonly shown: Shows | null;
  readonly isUnderTest: boolean;
}

async function writeResults(tx: Transaction, { codes, begun, shown, isUnderTest, ...by }: Tested): Promise<void> {
  const plan = await readPlanInForce(tx, codes, begun);
  if (plan === null) throw new RangeError(`no test plan for ${codes.revisionCode}`);
  const mandatory = testListSchema.parse(plan.tests).filter(({ isMandatory }) => isMandatory);
  const tests = isUnderTest ? mandatory.slice(0, -1) : mandatory;
  const instruments = await readInstruments(tx);
  for (const [index, test] of tests.entries()) {
    await tx.testResult.create({
      data: {
        ...by,
        ...readingOf(test, shown, instruments),
        planId: plan.id,
        testKey: test.key,
        purpose: "finding",
        note: "",
        at: new Date(begun.getTime() + (index + 1) * (HOUR_MS / 10)),
      },
    });
  }
}

/** In the middle of the limits, except at the test that tells the fault. */
function readingOf(
  { key, reading }: TestDefinition,
  shown: Shows | null,
  instruments: Awaited<ReturnType<typeof readInstruments>>,
) {
  if (reading.kind === "look") return { seen: "as-expected", verdict: "inside" };
  const { lower, upper } = reading.limits;
  const instrument = instruments.find(({ kind }) => kind === reading.instrument);
  const calibration = instrument?.calibrations.at(-1);
  if (calibration === undefined) throw new RangeError(`no instrument for ${key}`);
  const sound =
    lower !== null && upper !== null ? (lower + upper) / 2 : upper === null ? (lower ?? 0) * 1.2 : upper * 0.5;
  const share = shown?.test?.[0] === key ? shown.test[1] : null;
  const value = Number((share === null ? sound : (upper ?? lower ?? 0) * share).toPrecision(4));
  const expandedUncertainty = instrumentUncertainty(calibration, value);
  return {
    value,
    unit: reading.unit,
    expandedUncertainty,
    lower,
    upper,
    ambientC: 21,
    calibrationId: calibration.id,
    verdict: judgeNumber({ value, expandedUncertainty }, reading.limits),
  };
}
