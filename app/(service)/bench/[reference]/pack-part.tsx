import { CalendarDay } from "@/app/_components/calendar-day";
import { FactList } from "@/app/_components/fact-list";
import { SerialText } from "@/app/_components/serial-text";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { BenchSection } from "./bench-section";

type PackFacts = Pick<BenchReturn, "pack" | "changes" | "potted" | "cellsRepairable">;

/** The pack and its revision in words, with what changed in it and why. */
export function PackPart({ page }: { page: PackFacts }) {
  const { pack, changes, potted, cellsRepairable } = page;
  return (
    <BenchSection title="Pack">
      <FactList
        facts={[
          { term: "Serial", detail: <SerialText>{pack.serialShown}</SerialText> },
          { term: "Model", detail: pack.modelName },
          { term: "Built on", detail: <CalendarDay date={pack.builtOn} /> },
          { term: "Revision", detail: pack.revisionCode },
          { term: "Potted", detail: potted ? "Yes: no joint can be made again" : "No" },
          { term: "Cells can be exchanged", detail: cellsRepairable ? "Yes" : "No" },
        ]}
      />
      {changes.length === 0 ? (
        <p className="text-soft">The first revision of its model: nothing was changed for it.</p>
      ) : (
        <>
          <p className="font-semibold">New in revision {pack.revisionCode}</p>
          <ul className="list-disc space-y-2 pl-5">
            {changes.map(({ what, why }) => (
              <li key={what}>
                {what}
                <span className="block text-sm text-soft">Why: {why}</span>
              </li>
            ))}
          </ul>
        </>
      )}
    </BenchSection>
  );
}
