import { TrackForm } from "@/app/_components/track-form";
import { type CustodyPlace, custodyWords } from "@/lib/returns/custody-track";

type TrackAction = React.ComponentProps<typeof TrackForm>["action"];

interface PlacePartProps {
  readonly reference: string;
  readonly custody: { readonly place: CustodyPlace; readonly version: number; readonly ways: readonly CustodyPlace[] };
  readonly action: TrackAction;
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
        <TrackForm
          track="custody"
          reference={reference}
          version={custody.version}
          label="Where is it now?"
          button="Record the place"
          choices={custody.ways.map((value) => ({ value, label: custodyWords[value] }))}
          action={action}
        />
      </div>
    </details>
  );
}
