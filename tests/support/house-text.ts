/** The house rules of a file's text, as listed in DEVELOPERS.md under "House rules"; `house-rules.ts` asks them of every file. */
const MAX_LINES = 300;

interface TextRule {
  readonly pattern: RegExp;
  readonly why: string;
  /** Also where the line is a comment: the compiler obeys it there. */
  readonly alsoInComments?: true;
  readonly appliesTo?: (file: string) => boolean;
}

const mayReadEnvironment = /^(lib\/data\/env\.ts|tests\/|seed\/|prisma\/)/;

const rules: readonly TextRule[] = [
  { pattern: /:\s*any\b|\bas any\b|<any>/, why: "`any` switches the compiler off" },
  {
    pattern: /@ts-(ignore|expect-error|nocheck)/,
    why: "a suppression hides the next fault",
    alsoInComments: true,
  },
  {
    pattern: /\b(it|test|describe)(\.\w+)*\.(only|todo|skip)\b/,
    why: "a test that does not run is no test (skipIf with a printed reason is allowed)",
  },
  { pattern: /\bvi\.mock\(/, why: "our own code is never mocked" },
  {
    pattern: /\bprocess\.env\b/,
    why: "only lib/data/env.ts reads the environment",
    appliesTo: (file) => !mayReadEnvironment.test(file),
  },
  {
    pattern: /\bDate\.now\(|\bnew Date\(\)|\bMath\.random\b|\bcrypto\.|\bperformance\.now\(/,
    why: "the domain has no clock and draws nothing: both are passed in",
    appliesTo: (file) => /^lib\//.test(file) && !/^lib\/(data|auth)\//.test(file),
  },
];

/** Files behind the door that also run where the bundler's condition is missing, or that a browser may hold. May only get shorter. */
const withoutServerOnly: readonly (readonly [RegExp, string])[] = [
  [
    /^lib\/data\/reading-worker\/(?!reading-pool\.ts)/,
    "a worker thread loads it, without the condition of the bundler",
  ],
  [
    /^lib\/data\/(env|database-target|open-database|folder-lock|one-query-at-a-time)\.ts$/,
    "the migration tool opens the database with it, before anything is built",
  ],
  [/^lib\/auth\/(demo-password|zone-cookie)\.ts$/, "a name or a word that the browser is told anyway"],
];

function refusedAtTheDoor(file: string, text: string): string[] {
  if (!/^lib\/(data|auth)\/.*\.ts$/.test(file)) return [];
  const isListed = withoutServerOnly.some(([pattern]) => pattern.test(file));
  const has = text.startsWith('import "server-only";');
  if (has === !isListed) return [];
  return [
    isListed
      ? `${file}: begins with import "server-only"; take it from the list of files that do not`
      : `${file}: has to begin with import "server-only", so that no browser ever gets it`,
  ];
}

/** What the house refuses in the text of a file, each with its line; nothing where it has no objection. */
export function refusedInText(file: string, text: string): string[] {
  const lines = text.split("\n");
  const asked = rules.filter(({ appliesTo }) => appliesTo === undefined || appliesTo(file));
  const tooLong = /^(app|lib)\//.test(file) && lines.length > MAX_LINES;
  return [
    ...(tooLong ? [`${file}: ${lines.length} lines, more than ${MAX_LINES}`] : []),
    ...refusedAtTheDoor(file, text),
    ...lines.flatMap((line, index) => {
      const code = withoutComment(line);
      return asked
        .filter(({ pattern, alsoInComments }) => pattern.test(alsoInComments === true ? line : code))
        .map(({ why }) => `${file}:${index + 1}: ${why}`);
    }),
  ];
}

/** Prose may say "any"; code may not. */
function withoutComment(line: string): string {
  return line.replace(/^\s*(\/\*\*?|\*|\/\/).*$/, "").replace(/\s\/\/ .*$/, "");
}
