/** Photographs that belong to a return: what goods-in takes before a pack is opened or connected, the packed box, a proof of sale. */
export const photoViews = [
  "box-closed",
  "top",
  "bottom",
  "front",
  "back",
  "left",
  "right",
  "label",
  "connector",
  "packed-open",
  "packed-closed",
  "proof-of-sale",
  "told-label",
  "told-display",
  "told-case",
  "told-connector",
] as const;
export type PhotoView = (typeof photoViews)[number];

/** What whoever packs photographs before the box leaves. */
export const packedViews = ["packed-open", "packed-closed"] as const satisfies readonly PhotoView[];

/**
 * What is photographed with a complaint, before anybody decides whether the pack is wanted here: what a decision on log and
 * photographs alone rests on. Source: reference/diagnostics.md 3.7, point 4 (common practice).
 */
export const toldViews = [
  "told-label",
  "told-display",
  "told-case",
  "told-connector",
] as const satisfies readonly PhotoView[];

/** What the dealer may photograph and see again; everything else is the bench's. */
export const dealersViews = [...packedViews, "proof-of-sale", ...toldViews] as const satisfies readonly PhotoView[];

/** The six faces without which a first look is not complete. */
export const sixFaces = ["top", "bottom", "front", "back", "left", "right"] as const satisfies readonly PhotoView[];

export const photoViewLabels: Readonly<Record<PhotoView, string>> = {
  "box-closed": "The box, still closed",
  top: "Top",
  bottom: "Bottom",
  front: "Front",
  back: "Back",
  left: "Left side",
  right: "Right side",
  label: "The label, so that the serial can be read",
  connector: "The connector",
  "packed-open": "The packed box, still open",
  "packed-closed": "The packed box, closed, with its marks",
  "proof-of-sale": "A proof of sale: receipt, invoice, delivery note",
  "told-label": "Label with the serial",
  "told-display": "Display or lamps of vehicle and charger",
  "told-case": "Case, with any mark on it",
  "told-connector": "Connector",
};

/** What goods-in photographs; a proof of sale belongs to the answer on cover, the complaint was photographed before, a packed box to the way it goes. */
export const takenAtGoodsIn: readonly PhotoView[] = photoViews.filter(
  (view) => !dealersViews.some((other) => other === view),
);

/**
 * The faces nobody photographed since a moment, or ever where it is null. Where a pack comes in again, `since` is when it was
 * scanned in: what was photographed before shows it as it came the last time, or another pack that lay in its box.
 */
export function missingFaces(
  taken: readonly { readonly view: string; readonly takenAt: Date }[],
  since: Date | null,
): PhotoView[] {
  const now = taken.filter(({ takenAt }) => since === null || takenAt >= since).map(({ view }) => view);
  return sixFaces.filter((face) => !now.includes(face));
}
