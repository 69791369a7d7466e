import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { z } from "zod";
import { checkDataPath } from "../../support/check-data";
import { checkValues, valuesNotUsed } from "../../support/check-values";

const listed = checkDataPath("readings/checks.json");
const listSchema = z.array(z.object({ id: z.string(), value: z.number().nullable() }));

// Each value comes from the source named beside it in tests/support/check-values.ts; where its open file is absent it is left out, and says so.
test.for(checkValues.map((one) => [one.id, one] as const))(
  "%s comes out of our own code",
  ([id, { value, tolerance, ours }], { skip }) => {
    const found = ours();
    if (found === null) return skip(`the open file of ${id} does not lie beside the repository`);
    if (value === null) expect(found, `${id}: never reached`).toBeNaN();
    else expect(Math.abs(found - value), `${id}: ${found} against ${value}`).toBeLessThanOrEqual(tolerance + 1e-12);
  },
);

test("the values that need no file are always checked", () => {
  const closed = checkValues.filter(({ id }) => /^(ocv|sense|offset|bal|leak)/.test(id));
  expect(closed.length).toBeGreaterThan(25);
  for (const { id, ours } of closed) expect(ours(), id).not.toBeNull();
});

test.skipIf(listed === null)(
  "every listed value is either checked with its own number or left out with a reason",
  () => {
    const values = listSchema.parse(JSON.parse(readFileSync(listed ?? "", "utf8")));
    const used = new Map(checkValues.map(({ id, value }) => [id, value]));
    expect([...used.keys(), ...Object.keys(valuesNotUsed)].toSorted()).toEqual(values.map(({ id }) => id).toSorted());
    expect(used.size + Object.keys(valuesNotUsed).length).toBe(101);
    for (const { id, value } of values) if (used.has(id)) expect(used.get(id), id).toBe(value);
    for (const reason of Object.values(valuesNotUsed)) expect(reason.length).toBeGreaterThan(20);
  },
);
