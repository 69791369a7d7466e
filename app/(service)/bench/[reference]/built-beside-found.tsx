import { type Column, DataTable } from "@/app/_components/data-table";
import { FactList } from "@/app/_components/fact-list";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import {
  type GroupBesideGroup,
  packCapacities,
  type ResistanceBeside,
  resistanceBeside,
  sagOfGroupsV,
} from "@/lib/diagnosis/built-beside-found";
import { compareWithBuilt } from "@/lib/diagnosis/compare-with-built";
import { sayQuantity } from "@/lib/diagnosis/quantity-words";
import { inPrint } from "@/lib/diagnosis/wording";
import { groupsMadeAnew, sayMadeAnew } from "@/lib/repair/as-maintained";
import { BenchSection } from "./bench-section";

interface BuiltBesideFoundProps {
  readonly page: BenchReturn;
  readonly findings: NonNullable<BenchReturn["readings"]>["findings"];
}

/** As built beside as found: what the comparison says, then capacity, sag under load, and the resistance of every group. */
export function BuiltBesideFound({ page, findings }: BuiltBesideFoundProps) {
  const { whenRead: build, population, measurements, potted } = page;
  const madeAnew = build === null || page.build === null ? null : sayMadeAnew(groupsMadeAnew(page.build, build));
  const sentences = compareWithBuilt(measurements, findings, { built: build, population, potted }, page);
  return (
    <BenchSection title="As built beside as found">
      <ul className="list-disc space-y-1 pl-5">
        {sentences.map(inPrint).map((sentence) => (
          <li key={sentence}>{sentence}</li>
        ))}
      </ul>
      {madeAnew === null ? null : <p className="font-semibold">{madeAnew}</p>}
      {build === null ? (
        <p className="text-soft">No build record is on file, so only sound packs of this revision stand beside it.</p>
      ) : (
        <BuiltFacts build={build} measurements={measurements} record={madeAnew === null ? "As built" : "On record"} />
      )}
    </BenchSection>
  );
}

function BuiltFacts({
  build,
  measurements,
  record,
}: {
  build: NonNullable<BenchReturn["whenRead"]>;
  measurements: BenchReturn["measurements"];
  record: string;
}) {
  const resistance = resistanceBeside(build.groupResistanceMilliohm, measurements);
  const capacities = packCapacities(measurements);
  const sagV = sagOfGroupsV(resistance.groups, build.loadTestCurrentA);
  return (
    <>
      <FactList
        facts={[
          { term: "Capacity as built", detail: `${build.capacityAh.toFixed(2)} Ah` },
          {
            term: "Capacity as found",
            detail:
              capacities.length === 0
                ? "These readings cannot tell"
                : capacities.map(({ name, value, unit, method }) => (
                    <span key={`${name} ${value}`} className="block">
                      {sayQuantity(value, unit)} <span className="text-sm text-soft">{method}</span>
                    </span>
                  )),
          },
          {
            term: `Sag at ${build.loadTestCurrentA.toFixed(0)} A as built`,
            detail: `${build.loadTestSagV.toFixed(2)} V`,
          },
          {
            term: "Sag of the groups alone as found",
            detail: sagV === null ? "These readings cannot tell" : `${sagV.toFixed(2)} V, computed; leads not included`,
          },
        ]}
      />
      <ResistanceTable resistance={resistance} record={record} />
    </>
  );
}

function ResistanceTable({ resistance: { groups, found }, record }: { resistance: ResistanceBeside; record: string }) {
  const columns: Column<GroupBesideGroup>[] = [
    { head: "Group", numeric: true, cell: ({ group }) => group },
    { head: record, numeric: true, cell: ({ builtMilliohm }) => milliohm(builtMilliohm) },
    {
      head: "As found",
      numeric: true,
      cell: ({ foundMilliohm, uncertaintyMilliohm }) =>
        `${milliohm(foundMilliohm)}${uncertaintyMilliohm === null ? "" : ` ± ${Number(uncertaintyMilliohm.toPrecision(2))}`}`,
    },
    { head: "Rise against the middle group", cell: (row) => <Growth row={row} /> },
  ];
  return (
    <>
      <p className="text-sm">
        {found === null
          ? "The readings hold no load step from which the resistance of a group could be taken. The built values stand alone."
          : `Found by: ${inPrint(`${found.method}; ${found.conditions}`)}. Built and found come from different tests, so compare how the groups differ, not the heights.`}
      </p>
      <details open={groups.some(({ standsOut }) => standsOut)}>
        <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
          Resistance of {groups.length} groups
        </summary>
        <DataTable
          caption="Resistance of each cell group, from the negative end"
          columns={columns}
          rows={groups}
          rowKey={({ group }) => String(group)}
          whenEmpty="No resistances are on record."
        />
      </details>
    </>
  );
}

function Growth({ row: { growth, standsOut } }: { row: GroupBesideGroup }) {
  if (growth === null) return <span className="text-soft">cannot tell</span>;
  const words = `${growth.toFixed(2)} times`;
  return standsOut ? <strong className="text-danger">{words}, stands out</strong> : words;
}

function milliohm(value: number | null): string {
  return value === null ? "–" : `${value.toFixed(3)} mΩ`;
}
