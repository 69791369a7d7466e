import { renderToStaticMarkup } from "react-dom/server";
import sharp from "sharp";
import { expect, test } from "vitest";
import { QrCode } from "@/app/_components/qr-code";
import { readQrCodes } from "@/tests/support/read-qr";

const address = "https://returns.example/bench/R-26-00417-S";

function picture(text: string, pixels: number) {
  const markup = renderToStaticMarkup(<QrCode text={text} label="QR code" sizeMm={30} />);
  const svg = markup.replace("<svg", `<svg xmlns="http://www.w3.org/2000/svg" width="${pixels}" height="${pixels}"`);
  return sharp(Buffer.from(svg.replace(/ style="[^"]*"/, "")));
}

// 30 mm at the 203 dots an inch of a plain label printer are 240 dots.
test("an independent reader finds in the printed code what was put in", async () => {
  expect(await readQrCodes(await picture(address, 240).png().toBuffer())).toEqual([address]);
});

test("the code survives a fold or a stain over a part of it", async () => {
  const stain = await sharp({ create: { width: 40, height: 40, channels: 3, background: "#ffffff" } })
    .png()
    .toBuffer();
  const stained = await picture(address, 240)
    .composite([{ input: stain, left: 110, top: 130 }])
    .png()
    .toBuffer();
  expect(await readQrCodes(stained)).toEqual([address]);
});
