import { spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import path from "node:path";
import { coveredBy } from "@/tests/support/covered-tables";

const tests = path.resolve(import.meta.dirname, "../..");

/**
 * Is every table of reference values compared by value? Each in turn is made wrong by a hundredth and the tests that cover it are run: they
 * have to fail, and to pass where nothing is wrong. `npm run -s bench -- reference-tables [table ...]`.
 */
export async function* rows(asked: readonly string[]): AsyncIterable<object> {
  for (const [table, file] of Object.entries(coveredBy)) {
    if (asked.length > 0 && !asked.includes(table)) continue;
    const files = testsOf(file);
    const whole = await passes(files, "");
    const wrong = await passes(files, `statistics/ref/${table}`);
    yield { table, files, passesWhole: whole, passesWrong: wrong, agree: whole && !wrong };
  }
}

/** The test itself, or, where rows are typed in for several, those that import them. */
function testsOf(file: string): string[] {
  if (file.endsWith(".test")) return [`tests/${file}.ts`];
  return readdirSync(path.join(tests, "reference"), { recursive: true, encoding: "utf8" })
    .filter((one) => one.endsWith(".test.ts"))
    .filter((one) => readFileSync(path.join(tests, "reference", one), "utf8").includes(`@/tests/${file}"`))
    .map((one) => `tests/reference/${one}`);
}

function passes(files: readonly string[], wrongTable: string): Promise<boolean> {
  const asked = ["vitest", "run", "--config", "tests/vitest.config.ts", "--project", "reference", ...files];
  return new Promise((resolve, reject) => {
    const child = spawn("npx", asked, { stdio: "ignore", env: { ...process.env, WRONG_TABLE: wrongTable } });
    child.on("error", reject);
    child.on("close", (code) => resolve(code === 0));
  });
}
