import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { prepareZXingModule, readBarcodes } from "zxing-wasm/reader";

const wasm = readFileSync(createRequire(import.meta.url).resolve("zxing-wasm/reader/zxing_reader.wasm"));
prepareZXingModule({
  overrides: { wasmBinary: wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength) },
});

/** Every QR code that an independent reader (ZXing) finds in a picture. */
export async function readQrCodes(picture: Uint8Array): Promise<string[]> {
  const codes = await readBarcodes(picture, { formats: ["QRCode"] });
  return codes.map(({ text }) => text);
}
