import type { FieldWiring } from "./field";

/** Takes or chooses one photograph, for the routes that keep photographs. */
export function PhotoInput(wiring: FieldWiring) {
  return (
    <input
      {...wiring}
      name="photo"
      type="file"
      accept="image/*"
      capture="environment"
      required
      className="block min-h-11 w-full"
    />
  );
}
