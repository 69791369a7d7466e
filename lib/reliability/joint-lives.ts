import { type CompareBy, isLot } from "./compare-by";
import type { ExclusionReason, ExposureStatus, ReturnOutcome } from "./exposure";
import { type ExcludedCell, type LifeCell, type LifeTable, MOST_SLACK_DAYS } from "./life-cell";
import { TOGETHER } from "./mixed-lots";

/** Lives of packs as columns of equal length, equal ones counted. In days; -1 where a pack has no such life. */
export interface LifeRuns {
  readonly entry: Int32Array;
  /** Age at the end of the life up to a confirmed failure; of packs not sold the days since their dispatch. */
  readonly exit: Int32Array;
  readonly slack: Int32Array;
  /** The same of the life up to the first return of any kind. */
  readonly anyExit: Int32Array;
  readonly anySlack: Int32Array;
  readonly packs: Int32Array;
}

/** Lives of packs that belong to the same group of every attribute read, and ended alike. */
export interface JointLives {
  readonly groups: ReadonlyMap<CompareBy, string>;
  readonly stratum: string;
  readonly dispatched: boolean;
  readonly end:
    | { readonly kind: "life"; readonly status: ExposureStatus; readonly detail: string | null }
    | { readonly kind: "excluded"; readonly reason: ExclusionReason };
  readonly anyEnd: {
    readonly status: "returned" | "replaced" | "cover-ended" | "running";
    readonly detail: ReturnOutcome | null;
  };
  readonly runs: LifeRuns;
}

/** The place whose delay lives are weighed by, by the groups they belong to. */
export type PlaceOfLives = (groups: ReadonlyMap<CompareBy, string>) => string;

/** A group, of any attribute read, whose packs are made strata of their own: what remains is not theirs. */
export interface SetApart {
  readonly by: CompareBy;
  readonly group: string;
}

/**
 * The table of one attribute out of lives read for several: the cells that a query for this attribute alone would count,
 * so that any number of comparisons costs one reading. Throws where the attribute was not read.
 *
 * @param placeOfLives names the place whose delay lives are weighed by, where that is not their group. It stands on lives alone that ended
 * so lately that a delay can hide anything of them: all others are counted together.
 */
export function lifeTableBy(
  lives: readonly JointLives[],
  by: CompareBy,
  apart: readonly SetApart[] = [],
  placeOfLives: PlaceOfLives | undefined = undefined,
): LifeTable {
  const cells = new CellSums<LifeCell>();
  const excluded = new Map<string, ExcludedCell>();
  for (const one of lives) {
    const { dispatched, end, anyEnd, runs } = one;
    const belongs = { group: groupOf(one, by), stratum: one.stratum + apartWords(one, apart), dispatched };
    const words = `${belongs.group}|${belongs.stratum}|${dispatched}`;
    if (end.kind === "excluded") {
      for (const [i, packs] of runs.packs.entries()) {
        const exit = runs.exit[i] ?? -1;
        const key = `${words}|${end.reason}|${exit}`;
        const before = excluded.get(key)?.packs ?? 0;
        const daysSinceDispatch = exit < 0 ? null : exit;
        excluded.set(key, { ...belongs, reason: end.reason, daysSinceDispatch, packs: before + packs });
      }
    } else {
      const { status, detail } = end;
      const place = placeOfLives?.(one.groups);
      cells.add(
        `${words}|${status}|${detail}`,
        runs,
        "exit",
        (entryDays, exitDays, slackDays) => {
          const at = place === undefined || slackDays >= MOST_SLACK_DAYS ? {} : { place };
          return { line: "confirmed", ...belongs, ...at, entryDays, exitDays, slackDays, status, detail, packs: 0 };
        },
        place,
      );
    }
    const { status, detail } = anyEnd;
    cells.add(`any|${words}|${status}|${detail}`, runs, "anyExit", (entryDays, exitDays, slackDays) => {
      return { line: "any-return", ...belongs, entryDays, exitDays, slackDays, status, detail, packs: 0 };
    });
  }
  return { cells: cells.all(), excluded: [...excluded.values()], ...(isLot(by) && { hasPairs: true }) };
}

/** Ages and slacks stay below these, so that three of them make one number that a double holds exactly. */
const AGES = 2 ** 17;
const SLACKS = 2 ** 7;

/** Sums packs of equal cells: their words are looked up once for many lives, and their ages make one number. */
class CellSums<Cell extends { readonly packs: number }> {
  private readonly byWords = new Map<string, Map<number, { cell: Cell; packs: number }>>();

  add(
    words: string,
    { entry, packs, ...runs }: LifeRuns,
    line: "exit" | "anyExit",
    cellOf: (entry: number, exit: number, slack: number) => Cell,
    place?: string,
  ): void {
    const settled = this.sumsOf(words);
    const late = place === undefined ? settled : this.sumsOf(`${words}|at ${place}`);
    const [exits, slacks] = line === "exit" ? [runs.exit, runs.slack] : [runs.anyExit, runs.anySlack];
    for (let i = 0; i < packs.length; i++) {
      const [from, to, slack] = [entry[i] ?? 0, exits[i] ?? -1, slacks[i] ?? -1];
      if (to < 0) continue;
      const key = (from * AGES + to) * SLACKS + slack;
      const sums = slack < MOST_SLACK_DAYS ? late : settled;
      const known = sums.get(key);
      if (known === undefined) sums.set(key, { cell: cellOf(from, to, slack), packs: packs[i] ?? 0 });
      else known.packs += packs[i] ?? 0;
    }
  }

  private sumsOf(words: string): Map<number, { cell: Cell; packs: number }> {
    const sums = this.byWords.get(words) ?? new Map<number, { cell: Cell; packs: number }>();
    this.byWords.set(words, sums);
    return sums;
  }

  all(): Cell[] {
    const cells: Cell[] = [];
    for (const sums of this.byWords.values())
      for (const { cell, packs } of sums.values()) cells.push({ ...cell, packs });
    return cells;
  }
}

function groupOf({ groups }: JointLives, by: CompareBy): string {
  const group = groups.get(by);
  if (group === undefined) throw new Error(`These lives were not read by ${by}.`);
  return group;
}

function apartWords(one: JointLives, apart: readonly SetApart[]): string {
  return apart.map(({ by, group }) => (sharesGroup(groupOf(one, by), group) ? ", of it" : ", not of it")).join("");
}

/** A pack with cells of two lots belongs to their pair, and shares each of the two with others. */
function sharesGroup(own: string, group: string): boolean {
  if (own === group) return true;
  const parts = group.split(TOGETHER);
  return own.split(TOGETHER).some((part) => parts.includes(part));
}
