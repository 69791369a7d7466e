import { z } from "zod";

/** What packs can be grouped by: everything about a pack's build or sale that is known before it fails. */
export const comparisons = [
  "revision",
  "cell-lot",
  "joining-job",
  "potting-batch",
  "board-lot",
  "board-hardware",
  "firmware",
  "dealer",
  "country",
] as const;
export type CompareBy = (typeof comparisons)[number];

/** A name as an address may bring it; control characters are in no name, and no database takes them. */
export const groupNameSchema = z
  .string()
  .min(1)
  .max(200)
  .regex(/^\P{Cc}*$/u);

/** What groups are compared within. The model always counts: packs of two models are never held against each other. */
export const strata = ["model", "model-and-country"] as const;
export type Stratum = (typeof strata)[number];

/** How the page asks for it; anything unknown in the address means the usual. */
export const comparisonChoiceSchema = z.object({
  by: z.enum(comparisons).catch("revision"),
  within: z.enum(strata).catch("model"),
});
export type ComparisonChoice = z.output<typeof comparisonChoiceSchema>;

interface Words {
  /** "Build revision", as a choice. */
  readonly name: string;
  /** "revision", within a sentence. */
  readonly one: string;
  readonly many: string;
}

export const compareByWords: Readonly<Record<CompareBy, Words>> = {
  revision: { name: "Build revision", one: "revision", many: "revisions" },
  "cell-lot": { name: "Cell lot", one: "cell lot", many: "cell lots" },
  "joining-job": { name: "Joining job", one: "joining job", many: "joining jobs" },
  "potting-batch": { name: "Potting batch", one: "potting batch", many: "potting batches" },
  "board-lot": { name: "Board lot", one: "board lot", many: "board lots" },
  "board-hardware": { name: "Board hardware", one: "board", many: "boards" },
  firmware: { name: "Firmware as built", one: "as-built firmware", many: "as-built firmware versions" },
  dealer: { name: "Dealer", one: "dealer", many: "dealers" },
  country: { name: "Country of sale", one: "country", many: "countries" },
};

export const stratumWords: Readonly<Record<Stratum, string>> = {
  model: "within each model",
  "model-and-country": "within each model and country",
};

/** Group of the packs of which the attribute is not recorded: compared like any other, never left out in silence. */
export const NOT_RECORDED = "not recorded";

/** What kind of lot of the build record stands behind each attribute that is a lot. */
export const lotKinds = {
  "cell-lot": "cell",
  "joining-job": "joining",
  "potting-batch": "potting",
  "board-lot": "board",
} as const satisfies Partial<Record<CompareBy, string>>;
export type LotBy = keyof typeof lotKinds;

export function isLot(by: CompareBy): by is LotBy {
  return by in lotKinds;
}

/** An attribute as it was stored. @throws RangeError where nobody here wrote it. */
export function comparedBy(stored: string): CompareBy {
  const by = comparisons.find((known) => known === stored);
  if (by === undefined) throw new RangeError(`compared by: ${stored} is unknown`);
  return by;
}
