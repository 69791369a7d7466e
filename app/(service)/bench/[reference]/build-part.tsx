import { FactList } from "@/app/_components/fact-list";
import { labelOf } from "@/app/_components/label-of";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { BenchSection } from "./bench-section";
import { ChangeLine } from "./change-line";

const lotKinds: Readonly<Record<string, string>> = {
  cell: "Cell lot",
  joining: "Joining job",
  potting: "Potting batch",
  board: "Board lot",
  lead: "Lead lot",
  harness: "Measuring wire lot",
  sensor: "Sensor lot",
  switch: "Switch lot",
};

/** What was recorded at the end of the line, and the lots that went in: the way to other packs with the same cause. */
export function BuildPart({ page }: { page: Pick<BenchReturn, "build" | "maintained" | "packChanges" | "lots"> }) {
  const { build, lots, maintained, packChanges } = page;
  return (
    <BenchSection title="As it was built">
      {build === null ? (
        <p className="text-soft">No build record is on file for this pack.</p>
      ) : (
        <FactList
          facts={[
            { term: "Capacity", detail: `${build.capacityAh.toFixed(2)} Ah` },
            {
              term: "Load test",
              detail: `${build.loadTestSagV.toFixed(2)} V sag at ${build.loadTestCurrentA.toFixed(0)}\u00a0A`,
            },
            { term: "Cell matching, spread", detail: `${build.matchingSpreadMillivolt.toFixed(1)} mV` },
            { term: "Insulation", detail: `${build.insulationMegaohm.toFixed(0)} MΩ` },
            {
              term: "Case to straight-edge",
              detail: build.caseGapMillimetre === null ? "Not recorded" : `${build.caseGapMillimetre.toFixed(1)} mm`,
            },
            { term: "Vibration test", detail: build.vibrationPassed ? "Passed" : "Not passed" },
            { term: "Firmware", detail: build.firmware },
            { term: "Board", detail: <span className="font-mono break-all">{build.boardIdentity}</span> },
            { term: "Concession", detail: build.concession ?? "None" },
          ]}
        />
      )}
      {packChanges.length === 0 ? (
        <p className="text-soft">Nothing was done to it since.</p>
      ) : (
        <div className="space-y-2">
          <p className="font-semibold">Done to it since; readings taken after it are held against this</p>
          <ul className="space-y-2">
            {packChanges.map((change) => (
              <ChangeLine key={change.id} change={change} />
            ))}
          </ul>
          {maintained === null ? null : (
            <p>
              Now: board <span className="font-mono break-all">{maintained.boardIdentity}</span>, firmware{" "}
              {maintained.firmware}.
            </p>
          )}
        </div>
      )}
      {lots.length === 0 ? (
        <p className="text-soft">No lots are on record for this pack.</p>
      ) : (
        <FactList
          facts={lots.map(({ kind, code, supplier }, index) => ({
            term: `${labelOf(lotKinds, kind)}${lots.findIndex((one) => one.kind === kind) === index ? "" : ", also"}`,
            detail: (
              <>
                <span className="font-mono">{code}</span>
                <span className="block text-sm text-soft">
                  {kind === "joining" ? "on" : "from"} {supplier}
                </span>
              </>
            ),
          }))}
        />
      )}
    </BenchSection>
  );
}
