import { closePost, emptyOutbox } from "@/lib/data/notices/notice-post";

/** `npm run -s send-notices`: one round of the post, for a timer beside a PostgreSQL server. Prints what became of it as JSON. */
async function main(): Promise<void> {
  try {
    process.stdout.write(`${JSON.stringify(await emptyOutbox())}\n`);
  } finally {
    await closePost();
  }
}

await main();
