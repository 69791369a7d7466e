import type { Packing } from "./rule-set.schema";

/** What travels, as its entry is called: the pack by itself, or in the vehicle. */
export interface Goods {
  readonly unNumber: "UN 3480" | "UN 3481";
  readonly properShippingName: "LITHIUM ION BATTERIES" | "LITHIUM ION BATTERIES CONTAINED IN EQUIPMENT";
}

export function goodsOf(inEquipment: boolean): Goods {
  return inEquipment
    ? { unNumber: "UN 3481", properShippingName: "LITHIUM ION BATTERIES CONTAINED IN EQUIPMENT" }
    : { unNumber: "UN 3480", properShippingName: "LITHIUM ION BATTERIES" };
}

/** The rule holds for either entry; one package and its document name one. */
export function packingOf(packing: Packing, { unNumber, properShippingName }: Goods): Packing {
  const named = <One extends { readonly text: string }>(one: One): One => ({
    ...one,
    text: one.text.replace("{UN number}", unNumber).replace("{proper shipping name}", properShippingName),
  });
  return { ...packing, marks: packing.marks.map(named), documentEntries: packing.documentEntries.map(named) };
}
