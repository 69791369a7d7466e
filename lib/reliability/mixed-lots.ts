/** Between the codes of the lots of one pack. */
export const TOGETHER = " + ";

/** Whether groups of a table of lives are lots, of which a pack can have two. */
interface Mixed {
  readonly hasPairs?: boolean;
}

/**
 * Whether packs counted under `own` are packs of the group asked about. A pack with cells of two lots is counted once, under
 * both ("A + B"), and has cells of A as well as of B: it is held with either against all packs that have none of that lot.
 * Counted with neither, a bad lot that was built into pairs would be hidden among many small groups, and among its own others.
 */
export function belongsTo({ hasPairs }: Mixed, own: string, group: string): boolean {
  return own === group || (hasPairs === true && own.includes(TOGETHER) && own.split(TOGETHER).includes(group));
}

/** The groups that packs counted under `own` belong to. */
export function groupsOf({ hasPairs }: Mixed, own: string): readonly string[] {
  return hasPairs === true ? own.split(TOGETHER) : [own];
}

/** Cells by the group they belong to; those of a pack with two lots stand in both. */
export function cellsOfGroups<Cell extends { readonly group: string }>(
  mixed: Mixed,
  cells: readonly Cell[],
): Map<string, Cell[]> {
  const byGroup = new Map<string, Cell[]>();
  for (const cell of cells) {
    for (const group of groupsOf(mixed, cell.group)) {
      const known = byGroup.get(group);
      if (known === undefined) byGroup.set(group, [cell]);
      else known.push(cell);
    }
  }
  return byGroup;
}
