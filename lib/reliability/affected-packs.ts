import { z } from "zod";
import { csvTable } from "@/lib/settlement/csv-table";
import { comparisons, groupNameSchema } from "./compare-by";
import { grouped, packsInWords } from "./plain-share";

/** Where a pack is, as far as it matters for whoever wants to get hold of it. */
export const affectedPlaces = ["with-us", "on-the-way", "at-a-dealer", "with-a-customer", "out-of-reach"] as const;
export type AffectedPlace = (typeof affectedPlaces)[number];

export const affectedPlaceWords: Readonly<Record<AffectedPlace, string>> = {
  "with-us": "With us",
  "on-the-way": "With a carrier",
  "at-a-dealer": "At a dealer, not with a customer",
  "with-a-customer": "With a customer",
  "out-of-reach": "Out of reach: recycled, with a supplier or missing",
};

/** Which packs share a cause: what they are made of, and a range of serials within that. */
export const affectedDefinitionSchema = z.object({
  by: z.enum(comparisons),
  group: groupNameSchema,
  /** First and last serial as somebody types them; empty for no limit. */
  from: z.string().max(40).optional(),
  to: z.string().max(40).optional(),
});
export type AffectedDefinition = z.output<typeof affectedDefinitionSchema>;

export interface AffectedPack {
  readonly serial: string;
  readonly serialShown: string;
  readonly model: string;
  readonly revision: string;
  readonly builtOn: string;
  readonly place: AffectedPlace;
  /** "D01 Name"; null for a pack that was never dispatched. */
  readonly dealer: string | null;
  /** Two letters; null where no dealer is known. */
  readonly country: string | null;
  /** Null where no day of sale is known. */
  readonly soldOn: string | null;
  readonly hasFailed: boolean;
}

export interface CountryRow {
  readonly country: string | null;
  readonly packs: Readonly<Record<AffectedPlace, number>>;
  readonly total: number;
}

/** How many packs lie where, one row a country, the country with most packs first. */
export function packsByCountry(packs: readonly AffectedPack[]): CountryRow[] {
  const byCountry = new Map<string | null, AffectedPack[]>();
  for (const pack of packs) {
    const its = byCountry.get(pack.country);
    if (its === undefined) byCountry.set(pack.country, [pack]);
    else its.push(pack);
  }
  return [...byCountry]
    .map(([country, its]): CountryRow => ({ country, packs: countByPlace(its), total: its.length }))
    .sort((a, b) => b.total - a.total);
}

export function countByPlace(packs: readonly AffectedPack[]): Record<AffectedPlace, number> {
  const counts = { "with-us": 0, "on-the-way": 0, "at-a-dealer": 0, "with-a-customer": 0, "out-of-reach": 0 };
  for (const { place } of packs) counts[place] += 1;
  return counts;
}

/** What whoever has to decide must know first: how many, where, and how many of them have failed already. */
export function affectedSentence(packs: readonly AffectedPack[], takenOut: number): string {
  if (packs.length === 0) return "No pack is like that today.";
  const counts = countByPlace(packs);
  const countries = new Set(packs.flatMap(({ country }) => country ?? [])).size;
  const failed = packs.filter(({ hasFailed }) => hasFailed).length;
  const where = `${grouped(counts["with-us"])} with us, ${grouped(counts["at-a-dealer"])} at dealers, ${grouped(counts["with-a-customer"])} with customers, ${grouped(counts["on-the-way"])} with carriers, ${grouped(counts["out-of-reach"])} out of reach`;
  const repaired = takenOut === 0 ? "" : ` ${packsInWords(takenOut)} had it when built and no longer: not counted.`;
  return `${packsInWords(packs.length)} in ${grouped(countries)} ${countries === 1 ? "country" : "countries"}: ${where}. ${grouped(failed)} of them ${failed === 1 ? "has" : "have"} had a confirmed failure already.${repaired}`;
}

/** The packs one by one as CSV, the definition and the day in every row. */
export function affectedCsv(asOf: string, definition: AffectedDefinition, packs: readonly AffectedPack[]): string {
  const { by, group, from = "", to = "" } = definition;
  return csvTable(
    fields,
    packs.map((pack) => [
      asOf,
      by,
      group,
      from,
      to,
      pack.serial,
      pack.model,
      pack.revision,
      pack.builtOn,
      affectedPlaceWords[pack.place],
      pack.dealer ?? "",
      pack.country ?? "",
      pack.soldOn ?? "",
      pack.hasFailed ? "yes" : "no",
    ]),
  );
}

const fields = [
  "as of",
  "packs sharing",
  "name",
  "from serial",
  "to serial",
  "serial",
  "model",
  "revision",
  "built on",
  "where it is",
  "dealer",
  "country",
  "sold on",
  "confirmed failure already",
];
