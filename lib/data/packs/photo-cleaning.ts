import "server-only";
import { createHash } from "node:crypto";
import sharp from "sharp";
import { laplacianSharpness } from "@/lib/receiving/photo-legibility";

/** Larger uploads are refused. Engineering default: well above what a telephone's camera writes. */
export const MAX_PHOTO_BYTES = 25 * 1024 * 1024;

/** Pictures with more pixels are refused before they are decoded: a small file can claim a huge picture. Engineering default. */
const MAX_PIXELS = 60_000_000;

/** Longer side of what is kept, in pixels; enough to read a label. Engineering default. */
const KEPT_LONG_SIDE_PIXELS = 2400;

/** Longer side at which sharpness is measured, so that it can be compared between cameras. */
const MEASURED_LONG_SIDE_PIXELS = 800;

export type CleanPhoto =
  | {
      readonly kind: "photo";
      readonly jpeg: Uint8Array;
      readonly originalSha256: string;
      readonly widthPixels: number;
      readonly heightPixels: number;
      readonly sharpness: number;
    }
  | { readonly kind: "refused"; readonly sentence: string };

const notAPhoto: CleanPhoto = {
  kind: "refused",
  sentence: "This is no photograph that can be read here. Use JPEG, PNG, WebP or AVIF.",
};

/**
 * Decodes a picture and writes it anew as JPEG, upright and without any metadata (place, time, camera), so that nothing
 * but the picture is kept or served. Size and sharpness are those of what is kept; of the original only the SHA-256 remains.
 */
export async function cleanPhoto(original: Uint8Array): Promise<CleanPhoto> {
  const originalSha256 = createHash("sha256").update(original).digest("hex");
  try {
    const picture = sharp(original, { limitInputPixels: MAX_PIXELS, failOn: "error", animated: false });
    const { format } = await picture.metadata();
    if (!["jpeg", "png", "webp", "heif", "avif"].includes(format)) return notAPhoto;
    const upright = picture.rotate();
    const { info, data: jpeg } = await upright
      .clone()
      .resize({ width: KEPT_LONG_SIDE_PIXELS, height: KEPT_LONG_SIDE_PIXELS, fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#ffffff" })
      .jpeg({ quality: 82 })
      .toBuffer({ resolveWithObject: true });
    const grey = await upright
      .clone()
      .resize({
        width: MEASURED_LONG_SIDE_PIXELS,
        height: MEASURED_LONG_SIDE_PIXELS,
        fit: "inside",
        withoutEnlargement: true,
      })
      .flatten({ background: "#ffffff" })
      .toColourspace("b-w")
      .raw()
      .toBuffer({ resolveWithObject: true });
    return {
      kind: "photo",
      jpeg,
      originalSha256,
      widthPixels: info.width,
      heightPixels: info.height,
      sharpness: laplacianSharpness(grey.data, grey.info.width, grey.info.height),
    };
  } catch (error) {
    // The decoder throws plain errors for whatever it cannot read; what came from outside is never a fault of ours.
    if (error instanceof Error) return notAPhoto;
    throw error;
  }
}
