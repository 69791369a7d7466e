import { draftTests } from "@/lib/bench-tests/first-draft";
import { calibrationSchema, instrumentSchema } from "@/lib/bench-tests/instrument.schema";
import { type InstrumentKind, instrumentKinds } from "@/lib/bench-tests/instrument-kinds";
import type { TestDefinition } from "@/lib/bench-tests/test-definition.schema";
import { addInstrument, recordCalibration } from "@/lib/data/bench-tests/instruments";
import { asSystem } from "@/lib/data/database";
import { recordArrival } from "@/lib/data/receiving/receiving";
import { lodgeReturn } from "@/lib/data/returns/lodge-return";
import { makeMove } from "@/lib/data/returns/move-return";
import type { Serial } from "@/lib/packs/serial";
import { arrivalSchema } from "@/lib/receiving/arrival.schema";
import { lieInQuarantine } from "./lie-in-quarantine";
import { declareForSending, packBox } from "./pack-for-sending";
import { filledForm, type SmallFleet } from "./small-fleet";

/** The plan of the small fleet's one model, approved long before any test. */
export const smallFleetTests: readonly TestDefinition[] = draftTests({
  groups: 16,
  ratedCapacityAh: 40,
  cellMinV: 2.8,
  cellMaxV: 4.2,
  continuousDischargeA: 120,
  groupResistanceMilliohm: 0.9,
});

/** Approves the plan at set-up; with `mandatory`, those of its tests alone, all of them mandatory, and those of `besides`. */
export async function approveSmallFleetPlan(
  mandatory?: readonly string[],
  besides: readonly string[] = [],
): Promise<string> {
  const before = new Date("2024-01-02T08:00:00Z");
  const plan = await asSystem(async (tx) => {
    const model = await tx.packModel.findUniqueOrThrow({ where: { code: "QP" }, select: { id: true } });
    return tx.testPlan.create({
      data: {
        scope: "QP",
        modelId: model.id,
        version: 1,
        tests: smallFleetTests.flatMap((one) => {
          if (mandatory === undefined || besides.includes(one.key)) return [one];
          return mandatory.includes(one.key) ? [{ ...one, isMandatory: true }] : [];
        }),
        why: "Written at set-up.",
        state: "approved",
        proposedAt: before,
        settledAt: before,
      },
      select: { id: true },
    });
  });
  return plan.id;
}

/** What an instrument of a kind is called in these tests. */
export const codeOf = (kind: InstrumentKind) => `${kind.slice(0, 4).toUpperCase()}-1`;

/**
 * One instrument of each kind, sure to half a percent, calibrated from January 2026 to the end of that year, or to `dueOn`
 * for a test that measures today.
 */
export async function layOutInstruments(fleet: SmallFleet, dueOn = "2026-12-31"): Promise<void> {
  for (const kind of instrumentKinds) {
    const code = codeOf(kind);
    await addInstrument(fleet.bench, instrumentSchema.parse({ code, kind, description: "For tests" }));
    await recordCalibration(fleet.bench, certificate(code, { dueOn }), new Date("2026-01-10T09:00:00Z"));
  }
}

export function certificate(code: string, over: Readonly<Record<string, string>> = {}) {
  return calibrationSchema.parse({
    code,
    outcome: "passed",
    asFound: "within",
    calibratedOn: "2026-01-09",
    dueOn: "2026-12-31",
    uncertaintyPercent: "0.5",
    uncertaintyFloor: "0",
    certificate: "Certificate 1",
    ...over,
  });
}

/** Lodges a return and walks it to the bench: version 6, under test. */
export async function bringToBench(
  fleet: SmallFleet,
  serial: Serial,
  at: Date,
  dealer = fleet.berlin,
): Promise<string> {
  const lodged = await lodgeReturn(dealer, filledForm(serial), at);
  if (!lodged.ok) throw new Error(JSON.stringify(lodged));
  const { reference } = lodged;
  const steps = [
    { actor: fleet.bench, name: "take", stated: {} },
    { actor: fleet.lead, name: "approve-return", stated: {} },
    { actor: dealer, name: "hand-to-carrier", stated: {} },
    "arrives",
    { actor: fleet.bench, name: "start-test", stated: {} },
  ] as const;
  await declareForSending(fleet.lead, reference, at);
  for (const [index, step] of steps.entries()) {
    if (step === "arrives") {
      const arrival = arrivalSchema.parse({ scanned: serial, boxCondition: "sound", noSigns: true });
      const received = await recordArrival(fleet.bench, reference, arrival, at);
      if (!received.ok) throw new Error(JSON.stringify(received));
      await lieInQuarantine(reference, at);
      continue;
    }
    const { actor, name, stated } = step;
    if (name === "hand-to-carrier") await packBox(fleet, reference, at);
    const request = { name, reason: "As usual.", seenVersion: index + 1, stated };
    const answer = await makeMove(actor, reference, request, at);
    if (!answer.ok) throw new Error(`${name}: ${JSON.stringify(answer)}`);
  }
  return reference;
}
