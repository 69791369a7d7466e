import "server-only";
import { readHistoryForm } from "@/lib/returns/history-entry";
import { verifyHistory, whyItStandsElsewhere } from "@/lib/returns/verify-history";
import { asSystem, closeDatabase } from "../database";
import { checkHistory, sha256 } from "../returns/history";
import { trackEntry } from "../returns/track-rows";
import {
  verifyBeginnings,
  verifyIncidentChains,
  verifyIssueChains,
  verifyLineChains,
  verifySupplierChains,
} from "./beside-chains";

export interface BrokenChain {
  /** Reference of the return or of the incident; of a track its name and its id, of a line of money its id. */
  readonly chain: string;
  readonly sequence: number;
  readonly sentence: string;
}

export interface ChainReport {
  readonly returns: number;
  readonly tracks: number;
  readonly incidents: number;
  readonly lines: number;
  readonly supplierLines: number;
  readonly knownIssues: number;
  readonly rows: number;
  readonly broken: readonly BrokenChain[];
}

/** Chains read in one go: a history is short, and the whole of a large house would not fit in memory at once. */
const CHAINS_AT_ONCE = 200;

/**
 * Whether the history of every return and every track beside it is whole: numbered, chained by hash, and ending where the
 * mark kept outside the chain says, and whether each stands where its last row says; so the entries of every incident and of
 * every known issue, and the moves of every line of money, a supplier's included. As the system, because no person sees every dealer's rows and every track.
 */
export async function verifyEveryChain(): Promise<ChainReport> {
  const broken: BrokenChain[] = [];
  let [returns, tracks, rows] = [0, 0, 0];
  for (let after = ""; ; ) {
    const some = await asSystem((tx) =>
      tx.return.findMany({
        where: { reference: { gt: after } },
        select: {
          reference: true,
          status: true,
          version: true,
          lastMoveHash: true,
          moves: { orderBy: { sequence: "asc" } },
        },
        orderBy: { reference: "asc" },
        take: CHAINS_AT_ONCE,
      }),
    );
    for (const { reference, status, version, lastMoveHash, moves } of some) {
      returns += 1;
      rows += moves.length;
      const check = checkHistory(moves, lastMoveHash);
      const elsewhere = whyItStandsElsewhere(moves.at(-1) ?? null, { state: status, version, lastHash: lastMoveHash });
      if (check.kind === "broken") broken.push({ chain: reference, ...where(check) });
      else if (elsewhere !== null) broken.push({ chain: reference, sequence: moves.length, sentence: elsewhere });
    }
    const last = some.at(-1);
    if (last === undefined) break;
    after = last.reference;
  }
  for (let after: string | null = null; ; ) {
    const some = await asSystem((tx) =>
      tx.track.findMany({
        where: after === null ? {} : { id: { gt: after } },
        include: { moves: { orderBy: { sequence: "asc" } } },
        orderBy: { id: "asc" },
        take: CHAINS_AT_ONCE,
      }),
    );
    for (const { id, track, lastHash, state, version, moves } of some) {
      tracks += 1;
      rows += moves.length;
      const chain = moves.map((row) => ({
        ...trackEntry(id, row),
        form: readHistoryForm(row.form),
        previousHash: row.previousHash,
        hash: row.hash,
      }));
      const check = verifyHistory(chain, sha256, lastHash);
      const name = `${track} ${id}`;
      if (check.kind === "broken") broken.push({ chain: name, ...where(check) });
      const elsewhere = whyItStandsElsewhere(moves.at(-1) ?? null, { state, version, lastHash });
      if (check.kind === "sound" && elsewhere !== null)
        broken.push({ chain: name, sequence: moves.length, sentence: elsewhere });
    }
    const last = some.at(-1);
    if (last === undefined) break;
    after = last.id;
  }
  const [incidents, lines, suppliers, issues] = [
    await verifyIncidentChains(),
    await verifyLineChains(),
    await verifySupplierChains(),
    await verifyIssueChains(),
  ];
  for (const beside of [incidents, lines, suppliers, issues]) {
    rows += beside.rows;
    broken.push(...beside.broken);
  }
  broken.push(...(await verifyBeginnings()));
  const beside = {
    incidents: incidents.chains,
    lines: lines.chains,
    supplierLines: suppliers.chains,
    knownIssues: issues.chains,
  };
  return { returns, tracks, ...beside, rows, broken };
}

function where({ sequence, sentence }: { readonly sequence: number; readonly sentence: string }) {
  return { sequence, sentence };
}

/** The same for a command: the embedded folder is given back at the end. */
export async function verifyEveryChainOnce(): Promise<ChainReport> {
  try {
    return await verifyEveryChain();
  } finally {
    await closeDatabase();
  }
}
