import { type OperationName, operationOf, type PartKind } from "./operations";

/** One change of a pack, as it was recorded with the work. */
export interface PackChange {
  readonly id: string;
  readonly at: Date;
  readonly operation: OperationName;
  readonly reference: string;
  readonly byName: string;
  readonly note: string;
  readonly lot: { readonly id: string; readonly code: string } | null;
  readonly identity: string | null;
  readonly firmware: string | null;
  readonly groups: readonly number[];
  readonly resistanceMilliohm: readonly number[];
}

/** The values of a build record that work on a pack can change. */
export interface MaintainedValues {
  readonly groupResistanceMilliohm: readonly number[];
  readonly boardIdentity: string;
  readonly firmware: string;
}

/**
 * The pack as it is now: the build record with every change laid over it, oldest first. The build record itself stays as
 * it was written. A group whose cells or joint were made anew has the resistance measured after the work, so that the next
 * reading is held against that and not against a group that is no longer there.
 */
export function asMaintained<Built extends MaintainedValues>(build: Built, changes: readonly PackChange[]): Built {
  let { boardIdentity, firmware } = build;
  const groupResistanceMilliohm = [...build.groupResistanceMilliohm];
  for (const change of changes) {
    boardIdentity = change.identity ?? boardIdentity;
    firmware = change.firmware ?? firmware;
    change.groups.forEach((group, position) => {
      const measured = change.resistanceMilliohm[position];
      if (measured !== undefined && group <= groupResistanceMilliohm.length)
        groupResistanceMilliohm[group - 1] = measured;
    });
  }
  return { ...build, boardIdentity, firmware, groupResistanceMilliohm };
}

/** The changes that were made by an instant: what was read then is held against the pack as it was then. */
export function changesBy(changes: readonly PackChange[], at: Date): PackChange[] {
  return changes.filter((change) => change.at <= at);
}

export interface GroupMadeAnew {
  readonly group: number;
  readonly builtMilliohm: number;
  readonly nowMilliohm: number;
}

/** The groups whose cells or joint were made anew since the build, with their resistance then and after the work. */
export function groupsMadeAnew(
  built: Pick<MaintainedValues, "groupResistanceMilliohm">,
  now: Pick<MaintainedValues, "groupResistanceMilliohm">,
): GroupMadeAnew[] {
  return built.groupResistanceMilliohm.flatMap((builtMilliohm, index) => {
    const nowMilliohm = now.groupResistanceMilliohm[index] ?? builtMilliohm;
    return nowMilliohm === builtMilliohm ? [] : [{ group: index + 1, builtMilliohm, nowMilliohm }];
  });
}

/** Which record a comparison rests on, in words, with both values where they differ; null where nothing was made anew. */
export function sayMadeAnew(groups: readonly GroupMadeAnew[]): string | null {
  if (groups.length === 0) return null;
  const each = groups.map(
    ({ group, builtMilliohm, nowMilliohm }) =>
      `group ${group} ${nowMilliohm.toFixed(3)} mΩ, built ${builtMilliohm.toFixed(3)} mΩ`,
  );
  return `Held against the pack as it was after work on it: ${each.join("; ")}. Every other group as built.`;
}

export interface LotInPack {
  readonly lotId: string;
  readonly kind: PartKind;
  /** Null: it went in when the pack was built. */
  readonly fittedAt: Date | null;
  /** Null: it is still in. */
  readonly removedAt: Date | null;
}

/**
 * Which lots went in and out: those of the build, then every part fitted. What takes the place of all of its kind (a
 * board) puts the former lot out; one cell group of sixteen leaves the former lot in beside the new one.
 */
export function lotsAfter(
  built: readonly { readonly lotId: string; readonly kind: PartKind }[],
  changes: readonly Pick<PackChange, "at" | "operation" | "lot">[],
): LotInPack[] {
  const lots = new Map<string, LotInPack>(
    built.map(({ lotId, kind }) => [lotId, { lotId, kind, fittedAt: null, removedAt: null }]),
  );
  for (const { at, operation, lot } of changes) {
    const { part, replacesKind } = operationOf(operation);
    if (lot === null || part === null) continue;
    if (replacesKind) {
      for (const [id, one] of lots)
        if (one.kind === part && id !== lot.id && one.removedAt === null) lots.set(id, { ...one, removedAt: at });
    }
    const before = lots.get(lot.id);
    lots.set(lot.id, {
      lotId: lot.id,
      kind: part,
      fittedAt: before === undefined ? at : before.fittedAt,
      removedAt: null,
    });
  }
  return [...lots.values()];
}
