import path from "node:path";
import ts from "typescript";

/** What the framework asks a file of a page or a route for by name. */
const askedByName =
  /^(metadata|generateMetadata|viewport|dynamic|revalidate|runtime|maxDuration|GET|POST|DELETE|register|onRequestError)$/;

/** Source texts by their path from the top. */
export type Sources = ReadonlyMap<string, string>;

/**
 * Functions, classes and values that a file of `app` or `lib` gives away and no other file takes, read from the syntax alone. What
 * only its own file uses need not be seen outside; what nobody uses is gone.
 */
export function unusedExports(sources: Sources): string[] {
  const parsed = [...sources].map(([file, text]) => ({
    file,
    tree: ts.createSourceFile(file, text, ts.ScriptTarget.Latest, true),
  }));
  const taken = new Set(parsed.flatMap(({ file, tree }) => namesTaken(sources, file, tree)));
  return parsed.flatMap(({ file, tree }) =>
    /^(app|lib)\//.test(file)
      ? namesGiven(tree)
          .filter((name) => !askedByName.test(name) && !taken.has(`${file}#${name}`) && !taken.has(`${file}#*`))
          .map((name) => `${file}: ${name} is exported and no other file imports it`)
      : [],
  );
}

function namesGiven(tree: ts.SourceFile): string[] {
  return tree.statements.flatMap((statement) => {
    const kinds = ts.canHaveModifiers(statement) ? (ts.getModifiers(statement) ?? []).map(({ kind }) => kind) : [];
    if (!kinds.includes(ts.SyntaxKind.ExportKeyword) || kinds.includes(ts.SyntaxKind.DefaultKeyword)) return [];
    if (ts.isVariableStatement(statement))
      return statement.declarationList.declarations.flatMap(({ name }) => (ts.isIdentifier(name) ? [name.text] : []));
    const isNamed = ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement);
    return isNamed && statement.name !== undefined ? [statement.name.text] : [];
  });
}

/** Each as "file#name"; "file#*" where a file is taken whole. */
function namesTaken(sources: Sources, file: string, tree: ts.SourceFile): string[] {
  const found: string[] = [];
  const note = (specifier: ts.Node | undefined, names: readonly string[]) => {
    const from =
      specifier !== undefined && ts.isStringLiteral(specifier) ? fileOf(sources, file, specifier.text) : null;
    if (from !== null) found.push(...names.map((name) => `${from}#${name}`));
  };
  const visit = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node)) {
      const bindings = node.importClause?.namedBindings;
      const isNamed = bindings !== undefined && ts.isNamedImports(bindings);
      note(node.moduleSpecifier, isNamed ? bindings.elements.map(nameOutside) : bindings === undefined ? [] : ["*"]);
    }
    if (ts.isExportDeclaration(node)) {
      const { exportClause } = node;
      const isNamed = exportClause !== undefined && ts.isNamedExports(exportClause);
      note(node.moduleSpecifier, isNamed ? exportClause.elements.map(nameOutside) : ["*"]);
    }
    if (ts.isCallExpression(node) && node.expression.kind === ts.SyntaxKind.ImportKeyword)
      note(node.arguments[0], ["*"]);
    if (ts.isImportTypeNode(node) && ts.isLiteralTypeNode(node.argument)) note(node.argument.literal, ["*"]);
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

function nameOutside({ propertyName, name }: ts.ImportSpecifier | ts.ExportSpecifier): string {
  return (propertyName ?? name).text;
}

function fileOf(sources: Sources, from: string, specifier: string): string | null {
  const isOurs = specifier.startsWith("@/") || specifier.startsWith(".");
  const bare = specifier.startsWith("@/") ? specifier.slice(2) : path.join(path.dirname(from), specifier);
  return isOurs
    ? (["", ".ts", ".tsx", ".mjs"].map((end) => bare + end).find((file) => sources.has(file)) ?? null)
    : null;
}
