import { Button } from "@/app/_components/button";
import { Field } from "@/app/_components/field";
import { PhotoInput } from "@/app/_components/photo-input";
import { SelectInput } from "@/app/_components/select-input";
import { type PhotoView, photoViewLabels } from "@/lib/receiving/pack-faces";

interface PhotoFormProps {
  /** Where it is sent. */
  readonly at: string;
  /** Of its fields on this page. */
  readonly id: string;
  /** What may be photographed, at least one; asked about only where there is a choice. */
  readonly views: readonly PhotoView[];
  /** The one proposed of them; the first where nothing is. */
  readonly proposed?: PhotoView | undefined;
  readonly label?: string;
  readonly hint?: string;
  /** What is sent besides. */
  readonly hidden?: Readonly<Record<string, string>>;
  /** What the button is read out as where several such forms stand on a page. */
  readonly spoken?: string;
  readonly isMain?: boolean;
}

/** Sends one photograph. A plain form: it works with any camera and before any script. */
export function PhotoForm(props: PhotoFormProps) {
  const { at, id, views, proposed, label = "Photograph", hint, hidden = {}, spoken, isMain = false } = props;
  return (
    <form action={at} method="post" encType="multipart/form-data" className="space-y-4">
      {Object.entries(hidden).map(([name, value]) => (
        <input key={name} type="hidden" name={name} value={value} />
      ))}
      {views.length === 1 ? (
        <input type="hidden" name="view" value={views[0]} />
      ) : (
        <Field id={`${id}-view`} label="What it shows">
          {(wiring) => (
            <SelectInput {...wiring} name="view" defaultValue={proposed ?? views[0]}>
              {views.map((view) => (
                <option key={view} value={view}>
                  {photoViewLabels[view]}
                </option>
              ))}
            </SelectInput>
          )}
        </Field>
      )}
      <Field id={`${id}-photo`} label={label} hint={hint}>
        {(wiring) => <PhotoInput {...wiring} />}
      </Field>
      <Button type="submit" weight={isMain ? "main" : "second"} aria-label={spoken}>
        Keep this photograph
      </Button>
    </form>
  );
}
