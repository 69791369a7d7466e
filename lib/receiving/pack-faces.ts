/** Photographs taken before the pack is opened or connected: every face, and what identifies it. */
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
] as const;
export type PhotoView = (typeof photoViews)[number];

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
};

export function missingFaces(taken: readonly string[]): PhotoView[] {
  return sixFaces.filter((face) => !taken.includes(face));
}
