import { Button } from "@/app/_components/button";
import type { AffectedDefinition } from "@/lib/reliability/affected-packs";

interface RangeFormProps {
  readonly definition: AffectedDefinition;
  /** What is wrong with a serial that was typed; null where nothing is. */
  readonly problem: { readonly field: "from" | "to"; readonly sentence: string } | null;
}

/** Narrows the packs to a range of serials, kept in the address. Works without script. */
export function RangeForm({ definition, problem }: RangeFormProps) {
  const { by, group } = definition;
  return (
    <form action="/reliability/affected" method="get" className="flex flex-wrap items-end gap-3">
      <input type="hidden" name="by" value={by} />
      <input type="hidden" name="group" value={group} />
      {(["from", "to"] as const).map((field) => (
        <div key={field} className="min-w-56">
          <label htmlFor={`serial-${field}`} className="caption-print block">
            {field === "from" ? "From serial, empty for the first" : "To serial, empty for the last"}
          </label>
          <input
            id={`serial-${field}`}
            name={field}
            defaultValue={definition[field] ?? ""}
            autoCapitalize="characters"
            autoComplete="off"
            className="min-h-11 w-full border border-ink bg-raised px-3 font-mono"
            aria-invalid={problem?.field === field}
            {...(problem?.field === field && { "aria-describedby": "serial-problem" })}
          />
        </div>
      ))}
      <Button type="submit" weight="second">
        Show
      </Button>
      {problem === null ? null : (
        <p id="serial-problem" role="alert" className="w-full font-semibold">
          {problem.field === "from" ? "From serial" : "To serial"}: {problem.sentence}
        </p>
      )}
    </form>
  );
}
