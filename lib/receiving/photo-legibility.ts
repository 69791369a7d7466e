/** Shorter side in pixels from which a label can usually be read. Engineering default, no authority. */
const LEAST_SHORT_SIDE_PIXELS = 900;

/**
 * Mean absolute Laplacian of the grey values (0 to 255), measured at 800 pixels on the longer side, under which a
 * picture is called blurred. Engineering default, no authority: an even surface looks "blurred" too, so the answer is a
 * hint to look again and never a refusal.
 */
const LEAST_SHARPNESS = 1.5;

export type Legibility =
  | { readonly kind: "fair" }
  | { readonly kind: "too-small"; readonly sentence: string }
  | { readonly kind: "perhaps-blurred"; readonly sentence: string };

/** Whether a photograph will serve as evidence. Size and sharpness only; nobody has looked at what it shows. */
export function judgeLegibility(widthPixels: number, heightPixels: number, sharpness: number): Legibility {
  const shortSide = Math.min(widthPixels, heightPixels);
  if (shortSide < LEAST_SHORT_SIDE_PIXELS) {
    return {
      kind: "too-small",
      sentence: `Only ${shortSide} pixels on the short side: a label may not be legible. Take it nearer or with a better camera.`,
    };
  }
  if (sharpness < LEAST_SHARPNESS) {
    return {
      kind: "perhaps-blurred",
      sentence: "It may be blurred, or show an even surface. Look at it once more before the pack is moved.",
    };
  }
  return { kind: "fair" };
}

/**
 * Mean absolute value of the 4-neighbour Laplacian over a grey picture, row by row: 0 for an even surface, higher for
 * sharper edges. Border pixels are left out; 0 for a picture under 3 by 3 pixels.
 */
export function laplacianSharpness(grey: Uint8Array, widthPixels: number, heightPixels: number): number {
  if (widthPixels < 3 || heightPixels < 3) return 0;
  const at = (x: number, y: number) => grey[y * widthPixels + x] ?? 0;
  let sum = 0;
  for (let y = 1; y < heightPixels - 1; y += 1) {
    for (let x = 1; x < widthPixels - 1; x += 1) {
      sum += Math.abs(4 * at(x, y) - at(x - 1, y) - at(x + 1, y) - at(x, y - 1) - at(x, y + 1));
    }
  }
  return sum / ((widthPixels - 2) * (heightPixels - 2));
}
