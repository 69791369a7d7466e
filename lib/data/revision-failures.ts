import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { exposureOf } from "@/lib/reliability/exposure";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fromDateColumn } from "./calendar-columns";
import { asActor, type Transaction } from "./database";
import { readPackHistories } from "./pack-histories";
import { shownSerial } from "./pack-words";
import { readPolicies } from "./policy-columns";

export interface FailedPack {
  readonly serial: string;
  readonly serialShown: string;
  readonly reference: string;
  readonly toldOn: string;
  readonly confirmedFault: string;
  /** Since first use. */
  readonly ageDays: number;
}

/**
 * The packs behind a revision's number of failures, youngest age first. They are found by the same rules that count
 * them, so that list and number cannot disagree.
 */
export async function listRevisionFailures(
  actor: Actor,
  group: string,
  dataDate: CalendarDate,
): Promise<FailedPack[] | null> {
  if (!may(actor, "read-reliability")) return null;
  return asActor(actor, async (tx) => {
    const question = { dataDate, by: "revision", within: "model" } as const;
    const histories = await readPackHistories(tx, question, await readPolicies(tx), {
      revision: { code: group },
      returns: { some: { decision: { confirmedFailure: true } } },
    });
    const failed = histories.flatMap((history) => {
      const exposure = exposureOf(history);
      return exposure.kind === "exposure" && exposure.status === "failed"
        ? [{ serial: history.serial, ageDays: exposure.exitDays }]
        : [];
    });
    const returnOf = await readConfirmedReturns(
      tx,
      failed.map(({ serial }) => serial),
    );
    return failed
      .flatMap(({ serial, ageDays }) => {
        const found = returnOf.get(serial);
        return found === undefined ? [] : [{ serial, serialShown: shownSerial(serial), ageDays, ...found }];
      })
      .sort((a, b) => a.ageDays - b.ageDays);
  });
}

/** For each serial the first return whose failure was confirmed: the one that the statistics count. */
async function readConfirmedReturns(tx: Transaction, serials: readonly string[]) {
  const rows = await tx.return.findMany({
    where: { pack: { serial: { in: [...serials] } }, decision: { confirmedFailure: true } },
    select: {
      reference: true,
      toldOn: true,
      pack: { select: { serial: true } },
      decision: { select: { confirmedFault: true } },
    },
    orderBy: { toldOn: "desc" },
  });
  return new Map(
    rows.map(({ reference, toldOn, pack, decision }) => [
      pack.serial,
      { reference, toldOn: fromDateColumn(toldOn), confirmedFault: decision?.confirmedFault ?? "unknown" },
    ]),
  );
}
