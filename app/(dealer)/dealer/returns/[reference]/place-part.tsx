import { PlaceForm } from "@/app/_components/place-form";
import { type CustodyPlace, custodyWords } from "@/lib/returns/custody-track";

interface PlacePartProps {
  readonly reference: string;
  readonly custody: { readonly place: CustodyPlace; readonly version: number; readonly ways: readonly CustodyPlace[] };
  readonly action: React.ComponentProps<typeof PlaceForm>["action"];
}

/** Where a dealer says that the pack is somewhere else than on record, without anything being sent on its way. */
export function PlacePart({ reference, custody, action }: PlacePartProps) {
  if (custody.ways.length === 0) return null;
  return (
    <details className="card">
      <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">The pack is somewhere else now</summary>
      <div className="border-t border-rule p-3">
        <p className="mb-3">
          On record: {custodyWords[custody.place].toLowerCase()}. Say so here if the carrier gave it back, a missing
          pack turned up, or it went to its customer or came from there. This sends nothing on its way.
        </p>
        <PlaceForm reference={reference} custody={custody} action={action} />
      </div>
    </details>
  );
}
