import "server-only";
import { type BesideChain, whatIsWrongBeside } from "@/lib/returns/beside-chain";
import { asSystem } from "../database";
import { sha256 } from "../returns/history";
import {
  incidentHistoryEntry,
  issueHistoryEntry,
  lineHistoryEntry,
  moneyFactsSelect,
  supplierFactsSelect,
  supplierHistoryEntry,
} from "./chained-rows";
import { whyIssueContradicts } from "./issue-contradiction";

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

/** What was chained only after some of it had been written, as its marks and beginnings call it. */
const kinds = ["incident", "line", "supplier"] as const;

async function readMarks(
  kind: (typeof kinds)[number] | "issue",
  ids: readonly string[],
): Promise<ReadonlyMap<string, string>> {
  const marks = await asSystem((tx) =>
    tx.chainMark.findMany({ where: { chain: { in: ids.map((id) => `${kind} ${id}`) } } }),
  );
  return new Map(marks.map(({ chain, lastHash }) => [chain.slice(kind.length + 1), lastHash]));
}

/**
 * Whether more rows stand without a chain than were written before there was one: whoever wipes out hashes makes more of them,
 * whatever day the rows bear.
 */
export async function verifyBeginnings(): Promise<BesideReport["broken"]> {
  return asSystem(async (tx) => {
    const where = { hash: null };
    const now = {
      incident: await tx.incidentEntry.count({ where }),
      line: await tx.settlementMove.count({ where }),
      supplier: await tx.supplierMove.count({ where }),
    };
    const begun = await tx.chainBeginning.findMany();
    return kinds.flatMap((kind) => {
      const then = begun.find((row) => row.kind === kind);
      if (then === undefined)
        return [{ chain: `${kind} rows`, sequence: 0, sentence: "When their chains began is not kept any more." }];
      if (now[kind] <= then.unchained) return [];
      const sentence = `${now[kind]} are not chained, and only ${then.unchained} were written before ${then.at.toISOString()}, when the chains began.`;
      return [{ chain: `${kind} rows`, sequence: 0, sentence }];
    });
  });
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
      // Closed beside its entries: the hold of the pack ends with that row. Open, it has what it was opened with.
      const standing = closing === null ? null : { state: "closed", version: entries.length };
      const contradiction = entries.length === 0 ? "Its entries are gone: it was opened with what was known." : null;
      return { name: reference, rows, lastHash: marks.get(id) ?? null, standing, contradiction };
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
        select: {
          ...moneyFactsSelect,
          id: true,
          state: true,
          version: true,
          approvedByUserId: true,
          moves: { orderBy: { version: "asc" } },
        },
        orderBy: { id: "asc" },
        take: CHAINS_AT_ONCE,
      }),
    );
    const marks = await readMarks(
      "line",
      some.map(({ id }) => id),
    );
    const chains = some.map(({ id, state, version, approvedByUserId, moves, ...line }): BesideChain => {
      const rows = moves.map((row) => ({
        entry: lineHistoryEntry(row, row.form === "line-history-1" ? null : line),
        link: row,
      }));
      const approver = moves.findLast(({ to }) => to === "approved")?.actorUserId ?? null;
      return {
        name: `line ${id}`,
        rows,
        lastHash: marks.get(id) ?? null,
        standing: { state, version },
        contradiction: approver === approvedByUserId ? null : "It names another approver than its moves.",
      };
    });
    return { chains, last: some.at(-1)?.id ?? null };
  });
}

/** The moves of every supplier's line. */
export function verifySupplierChains(): Promise<BesideReport> {
  return verify(async (after) => {
    const some = await asSystem((tx) =>
      tx.supplierClaim.findMany({
        where: after === null ? {} : { id: { gt: after } },
        select: {
          ...supplierFactsSelect,
          id: true,
          state: true,
          version: true,
          sharePercent: true,
          agreedMinor: true,
          agreedByUserId: true,
          recoveredMinor: true,
          moves: { orderBy: { version: "asc" } },
        },
        orderBy: { id: "asc" },
        take: CHAINS_AT_ONCE,
      }),
    );
    const marks = await readMarks(
      "supplier",
      some.map(({ id }) => id),
    );
    const chains = some.map((row): BesideChain => {
      const { id, state, version, sharePercent, agreedMinor, agreedByUserId, recoveredMinor, moves, ...line } = row;
      const agreed = moves.findLast(({ to }) => to === "share-agreed") ?? null;
      const recovered = moves.findLast(({ to }) => to === "recovered") ?? null;
      const isAsAgreed =
        agreedMinor === (agreed?.amountMinor ?? null) &&
        sharePercent === (agreed?.sharePercent ?? null) &&
        agreedByUserId === (agreed?.actorUserId ?? null);
      const isAsMoved = isAsAgreed && recoveredMinor === (recovered?.amountMinor ?? null);
      return {
        name: `supplier's line ${id}`,
        rows: moves.map((move) => ({ entry: supplierHistoryEntry(move, line), link: move })),
        lastHash: marks.get(id) ?? null,
        standing: { state, version },
        contradiction: isAsMoved ? null : "It says otherwise than its moves what was agreed or recovered.",
      };
    });
    return { chains, last: some.at(-1)?.id ?? null };
  });
}

/**
 * What happened to every known issue that somebody proposed to open or to end; a house has few, so all at once. One that set-up
 * wrote has no chain before.
 */
export function verifyIssueChains(): Promise<BesideReport> {
  return verify(async () => {
    const { proposals, entries, issues } = await asSystem(async (tx) => ({
      proposals: await tx.issueProposal.findMany({ select: { issueId: true, endsIssueId: true, state: true } }),
      entries: await tx.issueEntry.findMany({ orderBy: { sequence: "asc" } }),
      issues: await tx.knownIssue.findMany(),
    }));
    const ended = proposals.flatMap(({ state, endsIssueId }) => (state === "approved" ? (endsIssueId ?? []) : []));
    const ids = [...new Set([...[...proposals, ...entries].map(({ issueId }) => issueId), ...ended])];
    const marks = await readMarks("issue", ids);
    const chains = ids.map((id): BesideChain => {
      const own = entries.filter(({ issueId }) => issueId === id);
      return {
        name: `known issue ${id}`,
        rows: own.map((row, index) => ({ entry: issueHistoryEntry(row, own[index - 1] ?? null), link: row })),
        lastHash: marks.get(id) ?? null,
        standing: null,
        contradiction: whyIssueContradicts(issues.find((row) => row.id === id) ?? null, own),
      };
    });
    return { chains, last: null };
  });
}
