import { z } from "zod";
import { whyProposed } from "@/lib/access/why-proposed.schema";
import { dateText } from "@/lib/warranty/date-text";
import { type RuleField, ruleFields, UNNAMED_TRACK } from "./rule-fields";
import { type TransportRules, transportRulesSchema } from "./rule-set.schema";
import { HOW_TO_MARK, HOW_TO_MARK_HEIGHT, readPackageMark, readSourced } from "./rule-text";

const headSchema = z.object({
  version: z
    .string()
    .trim()
    .regex(/^[0-9A-Za-z][0-9A-Za-z .-]{1,38}$/, "A short name such as 2027-1."),
  validFrom: dateText("The first day"),
  why: whyProposed,
});

export interface RuleProposal {
  readonly rules: TransportRules;
  readonly why: string;
}

export interface RuleProblem {
  readonly field: string;
  readonly sentence: string;
}

export type RuleProposalReading =
  | { readonly kind: "proposal"; readonly proposal: RuleProposal }
  | { readonly kind: "problems"; readonly problems: readonly RuleProblem[] };

/** Tracks a proposal may add at once. */
export const BLANK_TRACKS = 1;

/**
 * Reads a proposed rule set as the form sends it: texts by the names of `ruleFields`, started from the rules in force.
 * Every sentence keeps its mark; one without is refused at its field, with its line.
 */
export function readRuleProposal(base: TransportRules, typed: Readonly<Record<string, unknown>>): RuleProposalReading {
  const head = headSchema.safeParse(typed);
  const problems: RuleProblem[] = (head.error?.issues ?? []).map(({ path, message }) => ({
    field: String(path[0]),
    sentence: message,
  }));
  const isLeftOut = ({ name }: RuleField) => {
    const track = /^tracks\.\d+/.exec(name)?.[0];
    return track !== undefined && text(typed, `${track}.name`) === UNNAMED_TRACK;
  };
  const fields = ruleFields(base, BLANK_TRACKS).filter((field) => !isLeftOut(field));
  const read = new Map<string, unknown>();
  for (const field of fields) {
    const value = readField(field, text(typed, field.name));
    if (value.kind === "value") read.set(field.name, value.value);
    else problems.push({ field: field.name, sentence: value.sentence });
  }
  if (!head.success || problems.length > 0) return { kind: "problems", problems };
  const { version, validFrom, why } = head.data;
  const rules = transportRulesSchema.safeParse({ ...assembled(read), version, validFrom });
  if (!rules.success) {
    const found = rules.error.issues.map(({ path, message }) => ({ field: fieldAt(fields, path), sentence: message }));
    return { kind: "problems", problems: found };
  }
  const shared = countryTwice(rules.data);
  if (shared !== null) return { kind: "problems", problems: [shared] };
  return { kind: "proposal", proposal: { rules: rules.data, why } };
}

function text(typed: Readonly<Record<string, unknown>>, name: string): string {
  const value = typed[name];
  return typeof value === "string" ? value.replaceAll("\r\n", "\n").trim() : "";
}

type FieldReading =
  | { readonly kind: "value"; readonly value: unknown }
  | { readonly kind: "problem"; readonly sentence: string };

const problem = (sentence: string): FieldReading => ({ kind: "problem", sentence });
const value = (read: unknown): FieldReading => ({ kind: "value", value: read });

function readField({ name, kind }: RuleField, typed: string): FieldReading {
  switch (kind) {
    case "plain":
      if (typed !== "") return value(typed);
      return name.endsWith(".largeInstruction") ? value(null) : problem("This may not be empty.");
    case "number":
      return /^[0-9]{1,4}([.,][0-9]{1,2})?$/.test(typed)
        ? value(Number(typed.replace(",", ".")))
        : problem("A number above nothing.");
    case "countries": {
      const countries = typed
        .toUpperCase()
        .split(/[\s,;]+/)
        .filter((code) => code !== "");
      const wrong = countries.find((code) => !/^[A-Z]{2}$/.test(code));
      if (wrong !== undefined) return problem(`“${wrong}” is no country in two letters, for example DE.`);
      return countries.length === 0 ? problem("Name at least one country.") : value(countries);
    }
    case "sentence": {
      const read = readSourced(typed);
      return read.kind === "sentence" ? value(read.sentence) : problem(HOW_TO_MARK);
    }
    case "sentences":
      return typed === "" ? problem("This may not be empty.") : readLines(typed);
    case "no-sentences":
      return readLines(typed);
    case "marks":
      return readLines(typed, readPackageMarkLine);
    default: {
      const never: never = kind;
      return never;
    }
  }
}

type Sentence = Extract<ReturnType<typeof readSourced>, { kind: "sentence" }>["sentence"];

type LineReading =
  | { readonly kind: "line"; readonly line: unknown }
  | { readonly kind: "problem"; readonly sentence: string };

function readPackageMarkLine(sentence: Sentence): LineReading {
  const read = readPackageMark(sentence);
  return read.kind === "package-mark"
    ? { kind: "line", line: read.packageMark }
    : { kind: "problem", sentence: HOW_TO_MARK_HEIGHT };
}

function readLines(
  typed: string,
  of: (sentence: Sentence) => LineReading = (line) => ({ kind: "line", line }),
): FieldReading {
  const sentences: unknown[] = [];
  for (const [index, line] of typed.split("\n").entries()) {
    if (line.trim() === "") continue;
    const read = readSourced(line);
    if (read.kind === "unmarked") return problem(`Line ${index + 1} says not where it comes from. ${HOW_TO_MARK}`);
    const one = of(read.sentence);
    if (one.kind === "problem") return problem(`Line ${index + 1}: ${one.sentence}`);
    sentences.push(one.line);
  }
  return value(sentences);
}

/** Puts every value at its path; the schema then has the last word on the whole. */
function assembled(read: ReadonlyMap<string, unknown>): Record<string, unknown> {
  const tree: Record<string, unknown> = {};
  for (const [name, leaf] of read) {
    const parts = name.split(".");
    let at = tree;
    for (const part of parts.slice(0, -1)) {
      const next = isTree(at[part]) ? at[part] : {};
      at[part] = next;
      at = next;
    }
    at[parts.at(-1) ?? ""] = leaf;
  }
  return { ...tree, tracks: isTree(tree.tracks) ? Object.values(tree.tracks) : [] };
}

function isTree(found: unknown): found is Record<string, unknown> {
  return typeof found === "object" && found !== null && !Array.isArray(found);
}

function fieldAt(fields: readonly RuleField[], path: readonly PropertyKey[]): string {
  const name = path.join(".");
  return fields.find((field) => name.startsWith(field.name))?.name ?? "version";
}

function countryTwice({ tracks }: TransportRules): RuleProblem | null {
  for (const [index, { countries }] of tracks.entries()) {
    const taken = countries.find((code) => tracks.slice(0, index).some((earlier) => earlier.countries.includes(code)));
    if (taken !== undefined) {
      const sentence = `${taken} stands in another track already: a pack leaves by one set of rules.`;
      return { field: `tracks.${index}.countries`, sentence };
    }
  }
  return null;
}
