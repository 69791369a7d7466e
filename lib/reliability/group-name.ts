import { type CompareBy, compareByWords, comparisons } from "./compare-by";

export interface NamedGroup {
  readonly by: CompareBy;
  readonly group: string;
}

/** A group of packs in a few words, which a notice tells of it by: "Cell lot 7B". */
export function nameOfGroup({ by, group }: NamedGroup): string {
  return `${compareByWords[by].name} ${group}`;
}

/** The group behind such words; null where they are none. */
export function readNameOfGroup(name: string): NamedGroup | null {
  const by = comparisons.find((one) => name.startsWith(`${compareByWords[one].name} `));
  return by === undefined ? null : { by, group: name.slice(compareByWords[by].name.length + 1) };
}
