import { listToVerifyOnce } from "@/lib/data/to-verify";

/**
 * `npm run -s to-verify`: every sentence of law and transport that still needs a licensed eye, as JSON: table, version, sentence,
 * mark. The embedded database must not be open in a server meanwhile.
 */
async function main(): Promise<void> {
  process.stdout.write(`${JSON.stringify(await listToVerifyOnce(), null, 1)}\n`);
}

await main();
