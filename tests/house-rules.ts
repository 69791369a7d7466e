import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { refusedInText } from "./support/house-text";
import { unusedExports } from "./support/unused-exports";

/** The house rules that neither the compiler nor the linter knows, as listed in DEVELOPERS.md under "House rules". */
const allowedAtTop =
  /^(README\.md|DEVELOPERS\.md|package\.json|package-lock\.json|tsconfig\.json|next\.config\.js|LICENSE|prisma|app|lib|tests|seed|public|\..+)$/;
const bannedNames = /(^|\/)(index|utils|helpers|types|constants|common|shared|misc|service|manager)\.(ts|tsx|mjs)$/;
/** They hold refused text on purpose: the rules themselves, and the texts that are tried on them. */
const holdsRefusedText = /^tests\/(support\/house-text|unit\/house\/house-text\.test)\.ts$/;

const files = execFileSync("git", ["ls-files", "--cached", "--others", "--exclude-standard"], { encoding: "utf8" })
  .split("\n")
  .filter((file) => file !== "" && existsSync(file));
const problems: string[] = [];
const sources = new Map<string, string>();

for (const file of files) {
  const top = file.split("/")[0] ?? "";
  if (!allowedAtTop.test(top)) problems.push(`${file}: not a place of the house (see DEVELOPERS.md)`);
  if (!/\.(ts|tsx|mjs)$/.test(file)) continue;
  if (bannedNames.test(file)) problems.push(`${file}: a name that says nothing`);
  const text = readFileSync(file, "utf8");
  sources.set(file, text);
  if (!holdsRefusedText.test(file)) problems.push(...refusedInText(file, text));
}

problems.push(...unusedExports(sources));

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
