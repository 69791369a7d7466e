/** Photographs of a returned pack: those goods-in takes before it is opened or connected, and those of the packed box. */
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
] as const;
export type PhotoView = (typeof photoViews)[number];

/** What the dealer photographs before the box leaves. */
export const packedViews = ["packed-open", "packed-closed"] as const satisfies readonly PhotoView[];

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
};

export function missingFaces(taken: readonly string[]): PhotoView[] {
  return sixFaces.filter((face) => !taken.includes(face));
}
