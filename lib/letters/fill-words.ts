/** Puts values in the places of a sentence: `{day}`. A place without a value is a fault of the program (RangeError). */
export function fillWords(template: string, values: Readonly<Record<string, string>>): string {
  return template.replace(/\{([a-z]+)\}/g, (_, name: string) => {
    const value = values[name];
    if (value === undefined) throw new RangeError(`${name}: the letter has no value for it`);
    return value;
  });
}
