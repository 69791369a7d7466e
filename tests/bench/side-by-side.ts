/** One comparison, as it is printed: `ratio` is theirs over ours, so that above 1 is faster than the rival. */
export interface ComparedRow {
  readonly name: string;
  readonly oursSeconds: number;
  readonly theirsSeconds: number;
  readonly ratio: number;
  readonly against: string;
  /** Whether both gave the same numbers, or what differed. */
  readonly agree: boolean | string;
}

export interface Contest {
  readonly name: string;
  readonly against: string;
  /** Seconds of one run. */
  readonly ours: () => Promise<number>;
  readonly theirs: () => Promise<number>;
  readonly agree: () => Promise<boolean | string>;
}

/** Fewer runs give no median worth the name. */
const FEWEST_RUNS = 5;

/** Runs both in turn, so that whatever else the machine does meets both, and compares the medians. One run of each warms up. */
export async function compare(contest: Contest, runs = FEWEST_RUNS): Promise<ComparedRow> {
  const ours: number[] = [];
  const theirs: number[] = [];
  await contest.ours();
  await contest.theirs();
  for (let run = 0; run < Math.max(runs, FEWEST_RUNS); run++) {
    ours.push(await contest.ours());
    theirs.push(await contest.theirs());
  }
  const [oursSeconds, theirsSeconds] = [middle(ours), middle(theirs)];
  return {
    name: contest.name,
    oursSeconds: rounded(oursSeconds),
    theirsSeconds: rounded(theirsSeconds),
    ratio: rounded(theirsSeconds / oursSeconds),
    against: contest.against,
    agree: await contest.agree(),
  };
}

export async function secondsOf(work: () => unknown): Promise<number> {
  const start = performance.now();
  await work();
  return (performance.now() - start) / 1000;
}

function middle(values: readonly number[]): number {
  const sorted = values.toSorted((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function rounded(value: number): number {
  return Number(value.toPrecision(4));
}
