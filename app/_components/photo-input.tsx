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
      className="block min-h-11 w-full file:mr-3 file:min-h-11 file:cursor-pointer file:rounded file:border-2 file:border-solid file:border-edge file:bg-raised file:px-4 file:font-semibold hover:file:border-ink"
    />
  );
}
