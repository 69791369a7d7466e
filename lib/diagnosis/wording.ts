/** A number with a fixed count of decimals; a true minus would not survive every terminal, so the plain one stays. */
export function inDigits(value: number, digits: number): string {
  return value.toFixed(digits);
}

/** "group 5", "groups 5 and 6", "groups 1, 2 and 3". */
export function namedGroups(groups: readonly number[]): string {
  if (groups.length === 0) return "no group";
  if (groups.length === 1) return `group ${groups[0]}`;
  return `groups ${groups.slice(0, -1).join(", ")} and ${groups.at(-1)}`;
}

export function inMillivolt(volt: number): string {
  return `${(volt * 1000).toFixed(0)} mV`;
}

/** "40 s", "12 min", "3.5 h", "2.1 days". */
export function inTime(seconds: number): string {
  if (seconds < 120) return `${seconds.toFixed(0)} s`;
  if (seconds < 7200) return `${(seconds / 60).toFixed(0)} min`;
  if (seconds < 48 * 3600) return `${(seconds / 3600).toFixed(1)} h`;
  return `${(seconds / 86400).toFixed(1)} days`;
}

/** How long rows beyond a limit lasted; one row alone has no length. */
export function lasting(seconds: number): string {
  return seconds > 0 ? inTime(seconds) : "one row at a time";
}

/** The same of several together: "40 s in all". */
export function lastingInAll(seconds: number): string {
  return seconds > 0 ? `${inTime(seconds)} in all` : "one row at a time";
}

/** The same groups at the start of a sentence. */
export function namedGroupsFirst(groups: readonly number[]): string {
  const text = namedGroups(groups);
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** "1 row", "3 rows". */
export function counted(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? "" : "s"}`;
}

/** A sentence of a rule as it is printed for people: units by their signs instead of the letters a file knows. */
export function inPrint(sentence: string): string {
  return sentence
    .replace(/\bdegC\b/g, "°C")
    .replace(/\bmOhm\b/g, "mΩ")
    .replace(/\bkOhm\b/g, "kΩ");
}

/** Confidence is a judgement, kept within what a log alone can carry. */
export function confidence(value: number): number {
  return Math.round(Math.min(0.98, Math.max(0.05, value)) * 100) / 100;
}

/** A heading or an answer as part of a sentence. */
export function lowerFirst(text: string): string {
  return text.charAt(0).toLowerCase() + text.slice(1);
}

/** Answers one after the other: only the first begins with a capital. "" where there is none. */
export function listed(answers: readonly string[]): string {
  return answers.map((answer, position) => (position === 0 ? answer : lowerFirst(answer))).join("; ");
}
