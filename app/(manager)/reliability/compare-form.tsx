import { Button } from "@/app/_components/button";
import { SelectInput } from "@/app/_components/select-input";
import { type ComparisonChoice, compareByWords, comparisons, strata, stratumWords } from "@/lib/reliability/compare-by";

/** What packs are grouped by, kept in the address so that it can be sent to somebody. Works without script. */
export function CompareForm({ choice }: { choice: ComparisonChoice }) {
  return (
    <form action="/reliability" method="get" className="flex flex-wrap items-end gap-3">
      <div className="min-w-48">
        <label htmlFor="compare-by" className="caption-print block">
          Compare by
        </label>
        <SelectInput id="compare-by" name="by" defaultValue={choice.by}>
          {comparisons.map((by) => (
            <option key={by} value={by}>
              {compareByWords[by].name}
            </option>
          ))}
        </SelectInput>
      </div>
      <div className="min-w-56">
        <label htmlFor="compare-within" className="caption-print block">
          Held against its likes
        </label>
        <SelectInput id="compare-within" name="within" defaultValue={choice.within}>
          {strata.map((within) => (
            <option key={within} value={within}>
              {stratumWords[within]}
            </option>
          ))}
        </SelectInput>
      </div>
      <Button type="submit" weight="second">
        Show
      </Button>
    </form>
  );
}
