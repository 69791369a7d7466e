import { verifyEveryChainOnce } from "@/lib/data/chains/verify-chains";

/**
 * `npm run -s verify-history`: whether the history of every return and of every track is whole. Prints what was looked at as
 * JSON; ends with 1 where a chain is broken. The embedded database must not be open in a server meanwhile.
 */
async function main(): Promise<void> {
  const report = await verifyEveryChainOnce();
  process.stdout.write(`${JSON.stringify(report)}\n`);
  if (report.broken.length > 0) process.exitCode = 1;
}

await main();
