import { expect, test } from "vitest";
import { caseMoves } from "@/lib/returns/case-moves";
import { packInHandStatuses, type ReturnStatus } from "@/lib/returns/return-status";
import { buildScenario } from "@/seed/scenario/build-scenario";
import { journeyOf } from "@/seed/scenario/journey";

const scenario = buildScenario();
const until = new Date(`${scenario.asOf}T12:00:00Z`);
const replacementOf = new Map(scenario.replacements.map((one) => [one.returnKey, one]));

function journey(key: string) {
  const one = scenario.returns.find((found) => found.key === key);
  if (one === undefined) throw new Error(`no return ${key}`);
  const replacement = replacementOf.get(key);
  const place =
    replacement === undefined ? null : { serial: replacement.newSerial, deliveredOn: replacement.deliveredOn };
  return { one, ...journeyOf(one, place, until) };
}

test("every return of the demo goes by the table of moves, never back in time, and never approved by its proposer", () => {
  const reached = new Map<ReturnStatus, number>();
  for (const { key } of scenario.returns) {
    const { one, steps, proposedBy } = journey(key);
    let status: ReturnStatus = "sent-in";
    let at = one.lodgedAt;
    for (const step of steps.filter(({ move }) => move !== null)) {
      if (step.move !== null) expect(caseMoves[step.move].from, `${key} ${step.move} from ${status}`).toContain(status);
      expect(Date.parse(step.at), `${key} ${step.move}`).toBeGreaterThanOrEqual(Date.parse(at));
      if (step.move === "approve") expect(step.by, key).not.toBe(proposedBy);
      status = step.to;
      at = step.at;
    }
    reached.set(status, (reached.get(status) ?? 0) + 1);
    if (one.decision !== null)
      expect(
        steps.some(({ move }) => move === "approve"),
        key,
      ).toBe(true);
  }
  expect([...reached.keys()].length, JSON.stringify([...reached])).toBeGreaterThanOrEqual(7);
});

test("no pack of the demo is lodged while an earlier return of it is still in somebody's hands", () => {
  const lastOf = new Map(scenario.returns.map(({ serial, key }) => [serial, key]));
  const earlierOnes = scenario.returns.filter(({ serial, key }) => lastOf.get(serial) !== key);
  expect(earlierOnes.length).toBeGreaterThan(0);
  for (const earlier of earlierOnes) {
    const status = journey(earlier.key).steps.findLast(({ move }) => move !== null)?.to ?? "sent-in";
    expect(packInHandStatuses, `${earlier.key}, ${earlier.serial}`).not.toContain(status);
  }
});
