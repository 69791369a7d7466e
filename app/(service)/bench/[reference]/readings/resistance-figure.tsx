import type { BenchReturn } from "@/lib/data/bench-returns";
import { resistanceBeside } from "@/lib/diagnosis/built-beside-found";
import { resistanceDots } from "@/lib/diagnosis/resistance-dots";
import { CannotJudge } from "./cannot-judge";
import { DotPlot } from "./dot-plot";

interface ResistanceFigureProps {
  readonly build: BenchReturn["build"];
  readonly measurements: BenchReturn["measurements"];
  readonly refused: string | null;
}

/** Resistance of each group as dots with limits, the limit of a finding, and what each group was built with. */
export function ResistanceFigure({ build, measurements, refused }: ResistanceFigureProps) {
  const beside = resistanceBeside(build?.groupResistanceMilliohm ?? [], measurements);
  const drawn = resistanceDots(beside);
  if (drawn === null) {
    return (
      <CannotJudge
        what="Resistance"
        because={refused ?? "no load step was logged that a resistance could be taken from"}
      />
    );
  }
  const { dots, thresholdMilliohm, scaleOfBuilt, sentence } = drawn;
  return (
    <figure className="card space-y-2 p-3">
      <p className="caption-print">Resistance of each group, mΩ</p>
      <DotPlot
        label="Resistance of each group in milliohm. The same stands in the table of built and found values below."
        dots={dots}
        lines={[{ at: thresholdMilliohm, words: "from here a group is called high" }]}
        fromZero={false}
        besideWords={scaleOfBuilt === null ? null : `Diamond: as built, times ${scaleOfBuilt.toFixed(2)}`}
        valueWords="as found"
      />
      <figcaption className="space-y-1 text-sm">
        <p>{sentence}</p>
        {scaleOfBuilt === null ? (
          <p className="text-soft">No build record is on file to set beside it.</p>
        ) : (
          <p className="text-soft">
            Built and found come from different tests, so the built values are drawn times {scaleOfBuilt.toFixed(2)},
            the middle ratio of this pack: what counts is a dot that left its diamond.
          </p>
        )}
        <p className="text-soft">Every value stands in the table of built and found values below.</p>
      </figcaption>
    </figure>
  );
}
