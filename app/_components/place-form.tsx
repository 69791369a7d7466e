import { type CustodyPlace, custodyWords } from "@/lib/returns/custody-track";
import { TrackForm } from "./track-form";

interface PlaceFormProps {
  readonly reference: string;
  readonly custody: { readonly version: number; readonly ways: readonly CustodyPlace[] };
  readonly action: React.ComponentProps<typeof TrackForm>["action"];
}

/** Records where the pack is now, of the places it may have come to. */
export function PlaceForm({ reference, custody: { version, ways }, action }: PlaceFormProps) {
  return (
    <TrackForm
      track="custody"
      reference={reference}
      version={version}
      label="Where is it now?"
      button="Record the place"
      choices={ways.map((value) => ({ value, label: custodyWords[value] }))}
      action={action}
    />
  );
}
