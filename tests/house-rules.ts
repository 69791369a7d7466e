import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";

/** The house rules that neither the compiler nor the linter knows, as listed in DEVELOPERS.md under "House rules". */
const MAX_LINES = 300;
const allowedAtTop =
  /^(README\.md|DEVELOPERS\.md|package\.json|package-lock\.json|tsconfig\.json|next\.config\.js|LICENSE|prisma|app|lib|tests|seed|public|\..+)$/;
const bannedNames = /(^|\/)(index|utils|helpers|types|constants|common|shared|misc|service|manager)\.(ts|tsx|mjs)$/;
const bannedText: [RegExp, string][] = [
  [/:\s*any\b|\bas any\b|<any>/, "`any` switches the compiler off"],
  [/@ts-ignore|@ts-expect-error|@ts-nocheck/, "a suppression hides the next fault"],
  [
    /\b(it|test|describe)\.(only|todo|skip)\(/,
    "a test that does not run is no test (skipIf with a printed reason is allowed)",
  ],
  [/\bvi\.mock\(/, "our own code is never mocked"],
  [/\bprocess\.env\b/, "only lib/data/env.ts reads the environment"],
];
const mayReadEnvironment = /^(lib\/data\/env\.ts|tests\/|seed\/|prisma\/)/;

const files = execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard"], { encoding: "utf8" })
  .split("\n")
  .filter((file) => file !== "" && existsSync(file));
const problems: string[] = [];

for (const file of files) {
  const top = file.split("/")[0] ?? "";
  if (!allowedAtTop.test(top)) problems.push(`${file}: not a place of the house (see DEVELOPERS.md)`);
  if (!/\.(ts|tsx|mjs)$/.test(file)) continue;
  if (bannedNames.test(file)) problems.push(`${file}: a name that says nothing`);
  if (file === "tests/house-rules.ts") continue;
  const lines = readFileSync(file, "utf8").split("\n");
  if (/^(app|lib)\//.test(file) && lines.length > MAX_LINES)
    problems.push(`${file}: ${lines.length} lines, more than ${MAX_LINES}`);
  for (const [number, text] of lines.entries()) {
    // Prose may say "any"; code may not.
    const line = text.replace(/^\s*(\/\*\*?|\*|\/\/).*$/, "").replace(/\s\/\/ .*$/, "");
    for (const [pattern, why] of bannedText) {
      if (pattern.source.includes("process") && mayReadEnvironment.test(file)) continue;
      if (pattern.test(line)) problems.push(`${file}:${number + 1}: ${why}`);
    }
  }
}

const sizes = files
  .filter((file) => /^(app|lib)\/.*\.tsx?$/.test(file))
  .map((file) => readFileSync(file, "utf8").split("\n").length)
  .sort((a, b) => a - b);
const at = (share: number) => sizes[Math.min(sizes.length - 1, Math.floor(share * sizes.length))] ?? 0;
console.log(
  `${sizes.length} files in app and lib: median ${at(0.5)} lines, 90th percentile ${at(0.9)}, longest ${at(1)}.`,
);

for (const problem of problems) console.error(problem);
process.exitCode = problems.length === 0 ? 0 : 1;
