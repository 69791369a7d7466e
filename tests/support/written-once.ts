import { expect } from "vitest";

/**
 * Tries what the database must refuse. A superuser (the embedded database) meets the trigger; an ordinary owner (a server),
 * whom no policy lets change the rows, changes none. Either way the rows stay as they were.
 */
export async function expectWrittenOnce(
  read: () => Promise<readonly unknown[]>,
  change: () => Promise<{ readonly count: number }>,
): Promise<void> {
  const before = await read();
  expect(before).not.toEqual([]);
  const outcome = await change().then(
    ({ count }) => count,
    (error: unknown) => String(error),
  );
  if (outcome !== 0) expect(outcome).toMatch(/written once/);
  expect(await read()).toEqual(before);
}
