/** 1 in each row in which the group below, the group itself or the one above is bled; those that never change are left out. */
export function drawColumns(masks: Float64Array | null, index: number): Float64Array[] {
  if (masks === null) return [];
  return [index - 1, index, index + 1].flatMap((one) => {
    if (one < 0) return [];
    const column = masks.map((mask) => (mask > 0 ? Math.floor(mask / 2 ** one) % 2 : 0));
    return column.some((bit) => bit !== column[0]) ? [column] : [];
  });
}

/** Share of the rows that must be left without those in which a balancer draws. Engineering default. */
const unbledShare = 0.6;

/** Rows in which the group's balancer or a neighbour's draws through a shared lead; null where hardly any other row is left. */
export function bledRows(masks: Float64Array | null, index: number): Uint8Array | null {
  if (masks === null) return null;
  const near = [index - 1, index, index + 1].filter((one) => one >= 0).map((one) => 2 ** one);
  const bled = Uint8Array.from(masks, (bits) =>
    bits > 0 && near.some((bit) => Math.floor(bits / bit) % 2 === 1) ? 1 : 0,
  );
  const count = bled.reduce((sum, one) => sum + one, 0);
  return count > 0 && count <= (1 - unbledShare) * bled.length ? bled : null;
}
