import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { resistanceBeside } from "@/lib/diagnosis/built-beside-found";
import { resistanceDots } from "@/lib/diagnosis/resistance-dots";
import { groupsMadeAnew, sayMadeAnew } from "@/lib/repair/as-maintained";
import { CannotJudge } from "./cannot-judge";
import { DotPlot } from "./dot-plot";

interface ResistanceFigureProps {
  /** As it was built, and as it was when the readings were taken, after work on it. */
  readonly build: BenchReturn["build"];
  readonly whenRead: BenchReturn["whenRead"];
  readonly measurements: BenchReturn["measurements"];
  readonly refused: string | null;
  /** Ratio to the middle group the file's verdict asked for. */
  readonly highRatio: number;
  /** Groups a finding calls high. */
  readonly namedHigh: ReadonlySet<number>;
}

/** Resistance of each group as dots with limits, the limit of a finding, and what each group has on record. */
export function ResistanceFigure(props: ResistanceFigureProps) {
  const { build, whenRead, measurements, refused, highRatio, namedHigh } = props;
  const beside = resistanceBeside(whenRead?.groupResistanceMilliohm ?? [], measurements);
  const madeAnew = build === null || whenRead === null ? null : sayMadeAnew(groupsMadeAnew(build, whenRead));
  const record = madeAnew === null ? "as built" : "as it was after work";
  const drawn = resistanceDots(beside, highRatio, namedHigh);
  if (drawn === null) {
    return (
      <CannotJudge
        what="Resistance"
        because={refused ?? "no load step was logged that a resistance could be taken from"}
      />
    );
  }
  const { dots, thresholdMilliohm, thresholdWords, scaleOfBuilt, sentence } = drawn;
  return (
    <figure className="card space-y-2 p-3">
      <p className="caption-print">Resistance of each group, mΩ</p>
      <DotPlot
        label="Resistance of each group in milliohm. The same stands in the table of built and found values below."
        dots={dots}
        lines={[{ at: thresholdMilliohm, words: thresholdWords }]}
        fromZero={false}
        besideWords={scaleOfBuilt === null ? null : `Diamond: ${record}, times ${scaleOfBuilt.toFixed(2)}`}
        valueWords="as found"
      />
      <figcaption className="space-y-1 text-sm">
        <p>{sentence}</p>
        {scaleOfBuilt === null ? (
          <p className="text-soft">No build record is on file to set beside it.</p>
        ) : (
          <p className="text-soft">
            The values on record and those found come from different tests, so those on record are drawn times{" "}
            {scaleOfBuilt.toFixed(2)}, the middle ratio of this pack: what counts is a dot that left its diamond.
          </p>
        )}
        {madeAnew === null ? null : <p className="font-semibold">{madeAnew}</p>}
        <p className="text-soft">Every value stands in the table of built and found values below.</p>
      </figcaption>
    </figure>
  );
}
