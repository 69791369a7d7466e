import "server-only";
import type { Actor } from "@/lib/access/actor";
import { may } from "@/lib/access/may";
import { atTheWorks } from "@/lib/returns/custody-track";
import { decisionStands, readReturnStatus } from "@/lib/returns/return-status";
import { type Leg, waysThatCanBe } from "@/lib/transport/leg";
import { asActor } from "../database";
import { readPackTracks } from "../returns/track-rows";
import { readUnitToComeBack } from "./travelling-pack";

/** The ways a pack of a return may travel now, or did, for the house; none where it sees no such return. */
export async function readWaysOf(actor: Actor, reference: string): Promise<readonly Leg[]> {
  if (!may(actor, "read-build-record")) return [];
  return asActor(actor, async (tx) => {
    const row = await tx.return.findUnique({
      where: { reference },
      select: {
        id: true,
        packId: true,
        status: true,
        decision: { select: { remedy: true } },
        declarations: { distinct: ["leg"], select: { leg: true } },
      },
    });
    if (row === null) return [];
    const { custody } = await readPackTracks(tx, row.packId);
    const isHere = atTheWorks.includes(custody.state);
    return waysThatCanBe({
      isHereOrGoesOut: isHere || custody.state === "with-carrier-out",
      isHereOrSampled: isHere || custody.state === "supplier",
      isReplaced: decisionStands(readReturnStatus(row.status)) && row.decision?.remedy === "replace",
      unitComesBack: (await readUnitToComeBack(tx, row.id)) !== null,
      declared: row.declarations.map(({ leg }) => leg),
    });
  });
}
