import type { Fault } from "@/lib/diagnosis/finding";

/** Faults that a log can show alike; one further test separates each pair. Every other pair may be true together. */
const alike: readonly (readonly [Fault, Fault])[] = [
  ["weak-cell", "imbalance"],
  ["high-resistance-cell", "high-resistance-joint"],
  ["self-discharge", "imbalance"],
  ["weak-cell", "self-discharge"],
  ["sense-wire", "acute-event"],
  ["sense-wire", "measurement-fault"],
];

/** A finding as it is stored: the fault may be a word of another release. */
export interface FoundAt {
  readonly fault: string;
  readonly groups: readonly number[];
}

/** Whether two findings are two readings of one thing: faults that look alike, at a group they share. */
export function areRivals(one: FoundAt, other: FoundAt): boolean {
  const lookAlike = alike.some(
    ([a, b]) => (one.fault === a && other.fault === b) || (one.fault === b && other.fault === a),
  );
  return lookAlike && one.groups.some((group) => other.groups.includes(group));
}

export interface FindingTitles {
  readonly title: string;
  readonly testTitle: string;
}

/** How a finding of a list, likeliest first, is headed: against a rival above it, or as something found besides. */
export function findingTitles(findings: readonly FoundAt[], place: number): FindingTitles {
  const finding = findings[place];
  if (finding === undefined) throw new RangeError(`no finding at place ${place} of ${findings.length}`);
  const others = findings.filter((_, index) => index !== place);
  const testTitle = others.some((other) => areRivals(finding, other)) ? "Test that tells them apart" : "Next test";
  if (place === 0) return { title: "Most likely", testTitle };
  const isAlternative = findings.slice(0, place).some((above) => areRivals(finding, above));
  return { title: isAlternative ? "Or instead" : "Also found", testTitle };
}
