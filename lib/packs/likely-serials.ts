/** Characters mistaken for one another on a worn label or in handwriting [common practice, no source]. */
const LOOK_ALIKES = ["0OQD", "1IL", "2Z", "5S", "8B", "6G", "4A", "7T", "UV", "MN"] as const;

/**
 * Texts one likely slip away from what was entered: one look-alike exchanged, two neighbours swapped, or
 * letters typed for digits throughout (O for 0 and I for 1). Nothing is checked here; most of them are no serials. In order
 * of likelihood, without repeats.
 */
export function likelySerials(entered: string): string[] {
  const characters = [...entered];
  const candidates: string[] = [];
  for (const [position, character] of characters.entries()) {
    for (const other of lookAlikesOf(character)) candidates.push(characters.with(position, other).join(""));
  }
  // The two model letters stay as they are; behind them a letter that looks like a digit is one.
  candidates.push(entered.slice(0, 2) + characters.slice(2, -1).map(asDigit).join("") + entered.slice(-1));
  for (const [position, character] of characters.entries()) {
    const next = characters[position + 1];
    if (next !== undefined)
      candidates.push(
        characters
          .with(position, next)
          .with(position + 1, character)
          .join(""),
      );
  }
  return [...new Set(candidates)].filter((candidate) => candidate !== entered);
}

function lookAlikesOf(character: string): string[] {
  return LOOK_ALIKES.filter((set) => set.includes(character)).flatMap((set) => [...set.replace(character, "")]);
}

function asDigit(character: string): string {
  return lookAlikesOf(character).find((other) => /^[0-9]$/.test(other) && !/^[0-9]$/.test(character)) ?? character;
}
