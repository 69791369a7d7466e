import "server-only";
import { type BesideChain, whatIsWrongBeside } from "@/lib/returns/beside-chain";
import { incidentHistoryEntry, lineHistoryEntry } from "./chained-rows";
import { asSystem } from "./database";
import { sha256 } from "./history";

export interface BesideReport {
  readonly chains: number;
  readonly rows: number;
  readonly broken: readonly { readonly chain: string; readonly sequence: number; readonly sentence: string }[];
}

/** Chains read in one go. */
const CHAINS_AT_ONCE = 200;

async function verify(read: (after: string | null) => Promise<{ chains: BesideChain[]; last: string | null }>) {
  let [chains, rows] = [0, 0];
  const broken: { chain: string; sequence: number; sentence: string }[] = [];
  for (let after: string | null = null; ; ) {
    const some = await read(after);
    for (const chain of some.chains) {
      chains += 1;
      rows += chain.rows.length;
      const wrong = whatIsWrongBeside(chain, sha256);
      if (wrong !== null) broken.push({ chain: chain.name, sequence: wrong.sequence, sentence: wrong.sentence });
    }
    if (some.last === null) return { chains, rows, broken };
    after = some.last;
  }
}

async function readMarks(kind: "incident" | "line", ids: readonly string[]): Promise<ReadonlyMap<string, string>> {
  const marks = await asSystem((tx) =>
    tx.chainMark.findMany({ where: { chain: { in: ids.map((id) => `${kind} ${id}`) } } }),
  );
  return new Map(marks.map(({ chain, lastHash }) => [chain.slice(kind.length + 1), lastHash]));
}

/** The entries of every incident. As the system, like the rest of the check. */
export function verifyIncidentChains(): Promise<BesideReport> {
  return verify(async (after) => {
    const some = await asSystem((tx) =>
      tx.incident.findMany({
        where: after === null ? {} : { id: { gt: after } },
        select: { id: true, reference: true, closing: true, entries: { orderBy: { sequence: "asc" } } },
        orderBy: { id: "asc" },
        take: CHAINS_AT_ONCE,
      }),
    );
    const marks = await readMarks(
      "incident",
      some.map(({ id }) => id),
    );
    const chains = some.map(({ id, reference, closing, entries }): BesideChain => {
      const rows = entries.map((row, index) => ({
        entry: incidentHistoryEntry(row, entries[index - 1] ?? null),
        link: row,
      }));
      // Closed beside its entries: the hold of the pack ends with that row.
      const standing = closing === null ? null : { state: "closed", version: entries.length };
      return { name: reference, rows, lastHash: marks.get(id) ?? null, standing };
    });
    return { chains, last: some.at(-1)?.id ?? null };
  });
}

/** The moves of every line of money. */
export function verifyLineChains(): Promise<BesideReport> {
  return verify(async (after) => {
    const some = await asSystem((tx) =>
      tx.settlementLine.findMany({
        where: after === null ? {} : { id: { gt: after } },
        select: { id: true, state: true, version: true, moves: { orderBy: { version: "asc" } } },
        orderBy: { id: "asc" },
        take: CHAINS_AT_ONCE,
      }),
    );
    const marks = await readMarks(
      "line",
      some.map(({ id }) => id),
    );
    const chains = some.map(({ id, state, version, moves }): BesideChain => {
      const rows = moves.map((row) => ({ entry: lineHistoryEntry(row), link: row }));
      return { name: `line ${id}`, rows, lastHash: marks.get(id) ?? null, standing: { state, version } };
    });
    return { chains, last: some.at(-1)?.id ?? null };
  });
}
