import type { ComponentProps } from "react";

/**
 * A choice from a list too long for rows of buttons. The browser's own, so that typing letters and thumbs both work. Built
 * anew where another choice comes back with an answer: a form that was sent goes back to what its select was built with.
 */
export function SelectInput({ className = "", defaultValue, ...rest }: ComponentProps<"select">) {
  const isChosenBefore = defaultValue !== undefined;
  return (
    <select
      key={isChosenBefore ? String(defaultValue) : undefined}
      className={`block min-h-11 w-full rounded border-2 border-edge bg-raised px-3 py-2 text-base text-ink aria-invalid:border-danger ${className}`}
      {...(isChosenBefore ? { defaultValue } : {})}
      {...rest}
    />
  );
}
