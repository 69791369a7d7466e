const ALPHABET = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";
const M = ALPHABET.length;

/**
 * The check character of ISO/IEC 7064:2003, hybrid system MOD 37,36: one character of the same alphabet 0-9 A-Z.
 *
 * Method: from P = 36, for each character of value a: S = P + a modulo 36, a 0 counting as 36; P = 2S modulo 37. The
 * check character c makes P + c = 1 modulo 36.
 * Detects every single substitution, and every swap of neighbours except one pair in each of the 36 states (72 of
 * 45,360 ordered swaps), which is why the standard promises "nearly all" transpositions for its hybrid systems.
 *
 * Throws RangeError when the text is empty or holds another character: clean and upper-case typed text first.
 */
export function computeCheckCharacter(text: string): string {
  return ALPHABET.charAt((M + 1 - foldedState(text)) % M);
}

/** Whether the last character of the text is the check character of those before it; false for foreign characters. */
export function hasValidCheckCharacter(text: string): boolean {
  if (!/^[0-9A-Z]{2,}$/.test(text)) return false;
  return computeCheckCharacter(text.slice(0, -1)) === text.slice(-1);
}

function foldedState(text: string): number {
  if (text === "") throw new RangeError("text: a check character needs at least one character");
  let product = M;
  for (const character of text) {
    const position = ALPHABET.indexOf(character);
    if (position < 0) throw new RangeError(`text: only 0-9 and A-Z can be checked, found ${character}`);
    const sum = (product + position) % M || M;
    product = (sum * 2) % (M + 1);
  }
  return product;
}
