import { z } from "zod";
import { dateText } from "./date-text";

/** A field left out and a field holding null or undefined mean the same. */
export function mayBeMissing<Field extends z.ZodType>(field: Field) {
  return field.nullish().transform((given) => given ?? undefined);
}

/**
 * Everything an answer is drawn from besides the policy. Kept with every answer, so that it can be given again: what is
 * kept was read through this schema, and a field added later must be one that may be missing.
 */
export const coverFactsSchema = z.object({
  start: z.object({
    /** Delivery to the first customer on a proof of purchase. */
    deliveryReceiptOn: mayBeMissing(dateText("deliveryReceiptOn")),
    /** The same on proofs that were read on returns of the chain, the oldest first. */
    provenOn: mayBeMissing(z.array(dateText("provenOn"))),
    /** Days on proofs that a named person, choosing between proofs of the chain, did not take. */
    setAsideOn: mayBeMissing(z.array(dateText("setAsideOn"))),
    registration: mayBeMissing(
      z.object({ deliveredOn: dateText("deliveredOn"), registeredOn: dateText("registeredOn") }),
    ),
    /** What the dealer says at the counter, without proof. */
    statedOn: mayBeMissing(dateText("statedOn")),
    distributorSale: mayBeMissing(z.object({ soldOn: dateText("soldOn"), averageShelfDays: z.int().min(0).max(3660) })),
    dispatchedOn: mayBeMissing(dateText("dispatchedOn")),
  }),
  /** Day on which the customer told the dealer, on the calendar of the place of sale. */
  toldOn: dateText("toldOn"),
  /** Today at the place of sale; without it a day still to come cannot be noticed. */
  today: mayBeMissing(dateText("today")),
  /** Of the first pack's sale: for the law of the place, which the guarantee itself does not look at. */
  saleCountry: mayBeMissing(z.string().max(2)),
  buyerKind: mayBeMissing(z.string().max(40)),
  symptom: mayBeMissing(z.string().max(200)),
  replacements: mayBeMissing(z.array(z.object({ deliveredOn: dateText("deliveredOn") }))),
  /** Stays of the packs of the chain out of the customer's hands. */
  absences: mayBeMissing(
    z.array(z.object({ handedOverOn: dateText("handedOverOn"), backOn: dateText("backOn").nullable() })),
  ),
  /** Returns of the chain told before. */
  earlierReturns: mayBeMissing(
    z.array(
      z.object({
        toldOn: dateText("toldOn"),
        symptom: z.string(),
        remedy: z.string().nullable(),
        /** The pack was handed back after what was decided, or put right where it was. */
        isCarriedOut: z.boolean().optional(),
      }),
    ),
  ),
  /** Rules of the public holidays of the country of sale that hold today, as they are written; without them weekends alone count. */
  holidays: mayBeMissing(z.array(z.string().max(40))),
  /** Open field actions that cover the pack whatever the dates say. */
  fieldActions: mayBeMissing(z.array(z.object({ title: z.string() }))),
});

type ParsedFacts = z.output<typeof coverFactsSchema>;
type DeepReadonly<Value> = Value extends readonly (infer Item)[]
  ? readonly DeepReadonly<Item>[]
  : Value extends string | number | boolean | null | undefined
    ? Value
    : { readonly [Key in keyof Value]: DeepReadonly<Value[Key]> };
type MayLack<Value> = { readonly [Key in keyof Value as undefined extends Value[Key] ? never : Key]: Value[Key] } & {
  readonly [Key in keyof Value as undefined extends Value[Key] ? Key : never]?: Value[Key];
};

export type StartFacts = MayLack<DeepReadonly<ParsedFacts["start"]>>;
export type CoverFacts = MayLack<DeepReadonly<Omit<ParsedFacts, "start">>> & { readonly start: StartFacts };
