import { type Actor, mintActor, type Role } from "@/lib/access/actor";
import { draftTests } from "@/lib/bench-tests/first-draft";
import { calibrationSchema, instrumentSchema } from "@/lib/bench-tests/instrument.schema";
import type { InstrumentKind } from "@/lib/bench-tests/instrument-kinds";
import { planField } from "@/lib/bench-tests/plan-proposal";
import { type TestDefinition, testListSchema } from "@/lib/bench-tests/test-definition.schema";
import { addInstrument, recordCalibration } from "@/lib/data/bench-tests/instruments";
import { proposeTestPlan, settleTestPlan } from "@/lib/data/bench-tests/test-plans";
import { asSystem } from "@/lib/data/database";
import type { Person } from "./write-moves";

const HOUR_MS = 3_600_000;
/** Before the first pack of the scenario was built. */
const SET_UP_AT = new Date("2023-06-05T08:00:00Z");

interface BenchPeople {
  readonly lead: Actor;
  readonly manager: Actor;
  readonly bench: Actor;
}

/**
 * The bench of the scenario: a plan for each model, one of them in a second version and with a third proposed, the
 * instruments, one of which is out of calibration. What was measured with them: load-test-results.ts.
 */
export async function loadBenchTests(people: ReadonlyMap<string, Person>, now: Date): Promise<void> {
  const as = (role: Role) => {
    const person = [...people.values()].find((one) => one.role === role);
    if (person === undefined) throw new RangeError(`the scenario has nobody who is ${role}`);
    return mintActor({ ...person, dealerId: null });
  };
  const bench = { lead: as("service-lead"), manager: as("manager"), bench: as("technician") };
  await writeFirstPlans();
  await changePlan(bench, now);
  for (const one of demoInstruments) await keepInstrument(bench.bench, one, now);
}

async function writeFirstPlans(): Promise<void> {
  await asSystem(async (tx) => {
    for (const model of await tx.packModel.findMany()) {
      await tx.testPlan.create({
        data: {
          scope: model.code,
          modelId: model.id,
          version: 1,
          tests: draftTests({ ...model, groups: model.seriesCount }),
          why: "Written at set-up, from the data of the model.",
          state: "approved",
          proposedAt: SET_UP_AT,
          settledAt: SET_UP_AT,
        },
      });
    }
  });
}

/** A tighter limit in the second version of one plan, and a third version that waits for somebody else. */
async function changePlan({ lead, manager }: BenchPeople, now: Date): Promise<void> {
  const ago = (days: number) => new Date(now.getTime() - days * 24 * HOUR_MS);
  const tests = await testsOf("GW");
  const spread = planField("rest-spread", "limits.upper");
  const change = (typed: Readonly<Record<string, string>>) => ({ ...asTyped(tests), ...typed });
  const second = {
    scope: "GW",
    onVersion: 1,
    why: "Since revision C the cells are matched closer: 30 mV hides a weak group.",
  };
  must(await proposeTestPlan(lead, second, change({ [spread]: "25" }), ago(210)));
  const { id } = await asSystem((tx) =>
    tx.testPlan.findFirstOrThrow({ where: { scope: "GW", state: "proposed" }, select: { id: true } }),
  );
  must(await settleTestPlan(manager, id, "approved", ago(208)));
  const third = {
    scope: "GW",
    onVersion: 2,
    why: "Loose sense wires show on the shaker only, and they are what comes back.",
  };
  must(
    await proposeTestPlan(manager, third, change({ [spread]: "25", [planField("shaken", "mandatory")]: "on" }), ago(3)),
  );
}

/** The form of a proposal as it stands before anything is changed. */
function asTyped(tests: readonly TestDefinition[]): Record<string, string> {
  return Object.fromEntries(
    tests.filter(({ isMandatory }) => isMandatory).map(({ key }) => [planField(key, "mandatory"), "on"]),
  );
}

async function testsOf(scope: string): Promise<TestDefinition[]> {
  const { tests } = await asSystem((tx) =>
    tx.testPlan.findFirstOrThrow({ where: { scope, version: 1 }, select: { tests: true } }),
  );
  return testListSchema.parse(tests);
}

interface DemoInstrument {
  readonly code: string;
  readonly kind: InstrumentKind;
  readonly description: string;
  readonly percent: string;
  readonly floor: string;
  /** Months before the data date; its certificate lasts a year. */
  readonly calibratedMonthsAgo: number;
}

const demoInstruments: readonly DemoInstrument[] = (
  [
    ["V-01", "voltmeter", "0 to 200 V, four digits", "0.05", "0.02", 5],
    ["G-01", "group-voltmeter", "24 channels, 1 mV", "0", "1", 5],
    ["I-01", "insulation-tester", "50 to 500 V, to 2 GΩ", "5", "0.1", 7],
    ["R-01", "four-wire-ohmmeter", "3 mΩ range", "1", "0.005", 11],
    ["C-01", "capacity-bench", "0 to 100 V, 60 A", "0.4", "0.02", 3],
    ["L-01", "load-bench", "to 250 A", "1", "0.02", 3],
    ["T-01", "thermometer", "Thermal camera", "2", "1", 8],
    ["F-01", "feeler-gauge", "0.05 to 2 mm", "0", "0.1", 2],
    ["D-01", "leak-tester", "to 50 mbar", "2", "0.1", 2],
    // The hand meter was forgotten: its year ended four months ago.
    ["V-02", "voltmeter", "Hand meter, 0 to 1000 V", "0.5", "0.1", 16],
  ] as const
).map(([code, kind, description, percent, floor, calibratedMonthsAgo]) => ({
  code,
  kind,
  description,
  percent,
  floor,
  calibratedMonthsAgo,
}));

async function keepInstrument(bench: Actor, one: DemoInstrument, now: Date): Promise<void> {
  const { code, kind, description, percent, floor, calibratedMonthsAgo } = one;
  must(await addInstrument(bench, instrumentSchema.parse({ code, kind, description }), SET_UP_AT));
  const day = (months: number) =>
    new Date(Date.UTC(now.getUTCFullYear(), now.getUTCMonth() + months, 10)).toISOString().slice(0, 10);
  const certificate = calibrationSchema.parse({
    code,
    outcome: "passed",
    asFound: "within",
    calibratedOn: day(-calibratedMonthsAgo),
    dueOn: day(12 - calibratedMonthsAgo),
    uncertaintyPercent: percent,
    uncertaintyFloor: floor,
    certificate: `Certificate ${code}-${day(-calibratedMonthsAgo).slice(0, 4)} (demo)`,
  });
  must(await recordCalibration(bench, certificate, now));
}

function must(answer: { readonly ok: boolean }): void {
  if (!answer.ok) throw new Error(`the bench of the scenario: ${JSON.stringify(answer)}`);
}
