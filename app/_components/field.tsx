import { CircleAlert } from "lucide-react";
import type { ComponentProps, ReactNode } from "react";

/** What a control must carry so that its hint and its error are read out with it. */
export interface FieldWiring {
  readonly id: string;
  readonly "aria-describedby": string | undefined;
  readonly "aria-invalid": true | undefined;
}

interface FieldProps {
  /** Id of the control; the error summary links here. */
  readonly id: string;
  readonly label: string;
  readonly hint?: ReactNode;
  /** The same words as in the summary. */
  readonly error?: string | undefined;
  readonly children: (wiring: FieldWiring) => ReactNode;
}

/** One question: label above, hint, error, control. */
export function Field({ id, label, hint, error, children }: FieldProps) {
  return (
    <div className={error === undefined ? "" : "border-l-4 border-danger pl-3"}>
      <label htmlFor={id} className="block font-semibold">
        {label}
      </label>
      <FieldNotes id={id} hint={hint} error={error} />
      <div className="mt-2">{children(fieldWiring(id, hint, error))}</div>
    </div>
  );
}

export function FieldNotes({ id, hint, error }: { id: string; hint?: ReactNode; error?: string | undefined }) {
  return (
    <>
      {hint ? (
        <div id={`${id}-hint`} className="text-soft">
          {hint}
        </div>
      ) : null}
      {error === undefined ? null : (
        <p id={`${id}-error`} className="mt-1 flex items-start gap-2 font-semibold text-danger">
          <CircleAlert aria-hidden size={20} className="mt-0.5 shrink-0" />
          <span>
            <span className="sr-only">Error: </span>
            {error}
          </span>
        </p>
      )}
    </>
  );
}

export function fieldWiring(id: string, hint: ReactNode, error: string | undefined): FieldWiring {
  const described = [hint ? `${id}-hint` : null, error === undefined ? null : `${id}-error`].filter((note) => note);
  return {
    id,
    "aria-describedby": described.length === 0 ? undefined : described.join(" "),
    "aria-invalid": error === undefined ? undefined : true,
  };
}

const box =
  "block w-full rounded border-2 border-edge bg-raised px-3 py-2 text-ink aria-invalid:border-danger text-base min-h-11";

export function TextInput({ className = "", ...rest }: ComponentProps<"input">) {
  return <input className={`${box} ${className}`} {...rest} />;
}

export function TextArea({ className = "", ...rest }: ComponentProps<"textarea">) {
  return <textarea rows={5} className={`${box} ${className}`} {...rest} />;
}
