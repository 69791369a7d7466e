import { closeDueRound, runDueAsSystem } from "@/lib/data/returns/run-due";

/** `npm run -s run-due`: one round of what belongs to time, for a timer beside a PostgreSQL server. Prints what was done as JSON. */
async function main(): Promise<void> {
  try {
    process.stdout.write(`${JSON.stringify(await runDueAsSystem())}\n`);
  } finally {
    await closeDueRound();
  }
}

await main();
