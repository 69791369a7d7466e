import encodeQR from "qr";

/** Modules of white around the symbol. Source: ISO/IEC 18004 asks for four (from memory). */
const QUIET_ZONE_MODULES = 4;

interface QrCodeProps {
  readonly text: string;
  /** What the code holds, for those who do not see it. */
  readonly label: string;
  readonly sizeMm: number;
}

/** A QR code as one drawing, black on white on any paper; a quarter of it may be lost (error correction Q). */
export function QrCode({ text, label, sizeMm }: QrCodeProps) {
  const rows = encodeQR(text, "raw", { ecc: "quartile", border: QUIET_ZONE_MODULES });
  const path = rows.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join("");
  return (
    <svg
      role="img"
      aria-label={label}
      viewBox={`0 0 ${rows.length} ${rows.length}`}
      style={{ width: `${sizeMm}mm`, height: `${sizeMm}mm` }}
      shapeRendering="crispEdges"
    >
      <rect width="100%" height="100%" fill="#ffffff" />
      <path d={path} fill="#000000" />
    </svg>
  );
}
