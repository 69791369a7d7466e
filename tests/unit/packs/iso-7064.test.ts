import fc from "fast-check";
import { expect, test } from "vitest";
import { computeCheckCharacter, hasValidCheckCharacter } from "@/lib/packs/iso-7064";

const alphabet = [..."0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ"];
const character = fc.constantFrom(...alphabet);
const text = fc.string({ unit: character, minLength: 1, maxLength: 24 });

test("every text with its check character is valid, and with any other is not", () => {
  fc.assert(
    fc.property(text, (body) => {
      const valid = alphabet.filter((last) => hasValidCheckCharacter(body + last));
      expect(valid).toEqual([computeCheckCharacter(body)]);
    }),
  );
});

test("every single substitution is detected, in the check character too", () => {
  fc.assert(
    fc.property(text, fc.nat(), character, (body, at, other) => {
      const whole = [...body, computeCheckCharacter(body)];
      const position = at % whole.length;
      fc.pre(whole[position] !== other);
      expect(hasValidCheckCharacter(whole.with(position, other).join(""))).toBe(false);
    }),
    { numRuns: 1000 },
  );
});

// ISO/IEC 7064 promises its hybrid systems "all or nearly all" transpositions. The state after the characters before a
// swap is one of 36, and the rest of the text folds states one to one, so trying every pair behind every state is a
// complete count: it holds for a text of any length.
test("of 45,360 swaps of neighbours within a text exactly 72 go unseen, one pair in each state", () => {
  const unseen = statesByCheck().flatMap((prefix) =>
    alphabet.flatMap((a) =>
      alphabet
        .filter((b) => b !== a && computeCheckCharacter(prefix + a + b) === computeCheckCharacter(prefix + b + a))
        .map((b) => `${prefix} ${a}${b}`),
    ),
  );
  expect(unseen).toHaveLength(72);
  expect(new Set(unseen.map((swap) => swap.split(" ")[0])).size).toBe(36);
});

test("texts that are empty, too short or hold another character are no valid codes", () => {
  for (const wrong of ["", "A", "a1", "A-1", "A1*", "Ä1"]) expect(hasValidCheckCharacter(wrong), wrong).toBe(false);
  expect(() => computeCheckCharacter("")).toThrow(RangeError);
  expect(() => computeCheckCharacter("TR-1")).toThrow(RangeError);
});

/** One prefix for each of the 36 states: the check character names the state it follows. */
function statesByCheck(): string[] {
  const byCheck = new Map(alphabet.map((prefix) => [computeCheckCharacter(prefix), prefix]));
  expect(byCheck.size).toBe(36);
  return [...byCheck.values()];
}
