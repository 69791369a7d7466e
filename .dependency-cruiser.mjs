// The transitive guard of the layers; .biome.jsonc repeats the direct half of it for the editor. Keep the two in step.
const domain = { path: "^lib/", pathNot: "^lib/(data|auth)/" };
const pureLibraries = "node_modules/(zod|date-fns|@date-fns/|@stdlib/|papaparse|@types/papaparse)";

export default {
  forbidden: [
    { name: "no-cycles", severity: "error", from: {}, to: { circular: true } },
    {
      name: "domain-does-no-io",
      severity: "error",
      comment: "A domain module must not reach I/O or a framework, even through another module.",
      from: domain,
      to: {
        reachable: true,
        path: "^(app|prisma|lib/data|lib/auth)/|node_modules/(next|react|react-dom|react-hook-form|@prisma|server-only)/",
      },
    },
    { name: "domain-uses-no-node-api", severity: "error", from: domain, to: { dependencyTypes: ["core"] } },
    {
      name: "domain-dependencies-are-listed",
      severity: "error",
      comment: "Only these pure libraries may enter the domain: schemas, calendar, distributions, CSV.",
      from: domain,
      to: { dependencyTypes: ["npm", "npm-dev"], pathNot: pureLibraries },
    },
    {
      name: "stats-knows-no-domain",
      severity: "error",
      from: { path: "^lib/stats/" },
      to: { pathNot: "^lib/stats/|node_modules/@stdlib/" },
    },
    {
      name: "prisma-only-in-data",
      severity: "error",
      from: { pathNot: "^(lib/data|seed|tests|prisma)/" },
      to: { path: "^prisma/|node_modules/@prisma/" },
    },
    {
      name: "routes-do-not-touch-database",
      severity: "error",
      from: { path: "^app/" },
      to: { path: "^lib/data/database[.]ts$" },
    },
    {
      name: "auth-is-the-only-reader-of-the-session",
      severity: "error",
      from: { pathNot: "^lib/auth/" },
      to: { path: "node_modules/better-auth/|node_modules/next/headers" },
    },
    {
      name: "nothing-imports-routes",
      severity: "error",
      from: { pathNot: "^(app|tests)/" },
      to: { path: "^app/" },
    },
    {
      name: "routes-do-not-import-each-other",
      severity: "error",
      comment: "Shared interface parts move to app/_components.",
      from: { path: "^app/[(]([a-z]+)[)]/" },
      to: { path: "^app/[(]", pathNot: "^app/[(]$1[)]/" },
    },
    {
      name: "production-does-not-import-tests",
      severity: "error",
      from: { pathNot: "^(tests|seed)/" },
      to: { path: "^(tests|seed)/" },
    },
  ],
  options: {
    tsConfig: { fileName: "tsconfig.json" },
    tsPreCompilationDeps: true,
    doNotFollow: { path: "node_modules" },
    exclude: { path: "^([.]next|prisma/generated/.*/)" },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "node", "default"] },
  },
};
