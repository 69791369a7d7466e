import type { ComponentProps } from "react";

/** A choice from a list too long for rows of buttons. The browser's own, so that typing letters and thumbs both work. */
export function SelectInput({ className = "", ...rest }: ComponentProps<"select">) {
  return (
    <select
      className={`block min-h-11 w-full rounded border-2 border-edge bg-raised px-3 py-2 text-base text-ink aria-invalid:border-danger ${className}`}
      {...rest}
    />
  );
}
