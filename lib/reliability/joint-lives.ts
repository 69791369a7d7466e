import { type CompareBy, isLot } from "./compare-by";
import type { ExclusionReason, ExposureStatus, ReturnOutcome } from "./exposure";
import { type ExcludedCell, type LifeCell, type LifeTable, type Line, MOST_SLACK_DAYS } from "./life-cell";
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
 * @param lines what is to be counted: comparisons need confirmed failures alone, which is half the work.
 */
export function lifeTableBy(
  lives: readonly JointLives[],
  by: CompareBy,
  apart: readonly SetApart[] = [],
  placeOfLives: PlaceOfLives | undefined = undefined,
  lines: readonly Line[] = ["confirmed", "any-return"],
): LifeTable {
  const cells = new CellSums();
  const excluded = new Map<string, ExcludedCell>();
  const withConfirmed = lines.includes("confirmed");
  const withReturns = lines.includes("any-return");
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
    } else if (withConfirmed) {
      const { status, detail } = end;
      const kind: CellKind = { line: "confirmed", ...belongs, status, detail };
      const settled = cells.of(`${words}|${status}|${detail}`, kind);
      const place = placeOfLives?.(one.groups);
      const late =
        place === undefined ? settled : cells.of(`${words}|${status}|${detail}|at ${place}`, { ...kind, place });
      addRuns(runs, runs.exit, runs.slack, settled, late);
    }
    if (!withReturns) continue;
    const { status, detail } = anyEnd;
    const kind: CellKind = { line: "any-return", ...belongs, status, detail };
    const sums = cells.of(`any|${words}|${status}|${detail}`, kind);
    addRuns(runs, runs.anyExit, runs.anySlack, sums, sums);
  }
  return { cells: cells.all(), excluded: [...excluded.values()], ...(isLot(by) && { hasPairs: true }) };
}

/** Slacks stay below this, so that exit and slack make one small whole number, which is what maps are fastest by. */
const SLACKS = 2 ** 7;

/** What cells have in common that differ by their ages alone. */
type CellKind = Omit<LifeCell, "entryDays" | "exitDays" | "slackDays" | "packs">;

/** Packs by exit and slack, for each entry; nearly all enter at 0. */
type Sums = Map<number, Map<number, number>>;

/** @param late of lives that ended so lately that a delay can hide anything of them. */
function addRuns({ entry, packs }: LifeRuns, exits: Int32Array, slacks: Int32Array, settled: Sums, late: Sums): void {
  for (let i = 0; i < packs.length; i++) {
    const [from, to, slack] = [entry[i] ?? 0, exits[i] ?? -1, slacks[i] ?? -1];
    if (to < 0) continue;
    const sums = slack < MOST_SLACK_DAYS ? late : settled;
    let entered = sums.get(from);
    if (entered === undefined) {
      entered = new Map();
      sums.set(from, entered);
    }
    const key = to * SLACKS + slack;
    entered.set(key, (entered.get(key) ?? 0) + (packs[i] ?? 0));
  }
}

/** Sums packs of equal cells: their words are looked up once for many lives, and cells are made when all are summed. */
class CellSums {
  private readonly byWords = new Map<string, { readonly kind: CellKind; readonly sums: Sums }>();

  of(words: string, kind: CellKind): Sums {
    const known = this.byWords.get(words);
    if (known !== undefined) return known.sums;
    const sums: Sums = new Map();
    this.byWords.set(words, { kind, sums });
    return sums;
  }

  all(): LifeCell[] {
    const cells: LifeCell[] = [];
    for (const { kind, sums } of this.byWords.values()) {
      for (const [entryDays, entered] of sums) {
        for (const [key, packs] of entered) {
          const slackDays = key % SLACKS;
          cells.push({ ...kind, entryDays, exitDays: (key - slackDays) / SLACKS, slackDays, packs });
        }
      }
    }
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
