import { brotliCompressSync, gzipSync } from "node:zlib";
import { chromium } from "playwright-core";

/** A mid-range telephone on a mobile network, as the page-speed tools of browsers simulate it by default (from memory). */
const PHONE = { slowerBy: 4, latencyMs: 150, bytesPerS: (1.6 * 1024 * 1024) / 8 };
const RUNS = 5;

/** What the dealer's first page weighs, and when its largest part is painted on a simulated telephone; with the cache empty. */
export async function weighFirstPage(address: string, cookie: string): Promise<object> {
  const browser = await chromium.launch({
    executablePath: process.env.CHROMIUM_PATH ?? "/usr/bin/chromium",
    args: ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
  });
  try {
    const paintedMs: number[] = [];
    let scripts: string[] = [];
    for (let run = 0; run < RUNS; run++) {
      const context = await browser.newContext({ viewport: { width: 360, height: 780 }, extraHTTPHeaders: { cookie } });
      const page = await context.newPage();
      const asked: string[] = [];
      page.on("response", (answer) => {
        if (answer.request().resourceType() === "script") asked.push(answer.url());
      });
      const devtools = await context.newCDPSession(page);
      await devtools.send("Emulation.setCPUThrottlingRate", { rate: PHONE.slowerBy });
      await devtools.send("Network.emulateNetworkConditions", {
        offline: false,
        latency: PHONE.latencyMs,
        downloadThroughput: PHONE.bytesPerS,
        uploadThroughput: PHONE.bytesPerS / 2,
      });
      await page.goto(`${address}/dealer`, { waitUntil: "load" });
      paintedMs.push(await page.evaluate(largestPaintMs));
      scripts = [...new Set(asked)];
      await context.close();
    }
    const bytes = await Promise.all(scripts.map(async (url) => Buffer.from(await (await fetch(url)).arrayBuffer())));
    const kB = (compress: (one: Buffer) => Buffer) =>
      Math.round(bytes.reduce((sum, one) => sum + compress(one).byteLength, 0) / 100) / 10;
    return {
      name: "dealer's first page",
      scripts: scripts.length,
      scriptKbGzip: kB((one) => gzipSync(one)),
      scriptKbBrotli: kB((one) => brotliCompressSync(one)),
      reachKb: 130,
      largestPaintMs: paintedMs.toSorted((a, b) => a - b)[Math.floor(RUNS / 2)],
      reachMs: 1500,
    };
  } finally {
    await browser.close();
  }
}

/** Runs in the page: when the largest part so far was painted, ms after the start. */
function largestPaintMs(): Promise<number> {
  return new Promise((resolve) => {
    new PerformanceObserver((list) => resolve(list.getEntries().at(-1)?.startTime ?? Number.NaN)).observe({
      type: "largest-contentful-paint",
      buffered: true,
    });
  });
}
