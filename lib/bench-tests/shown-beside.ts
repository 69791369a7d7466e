import { quantityTitle } from "@/lib/diagnosis/measured-quantities";
import { sayKnownTo, sayQuantity, sayUncertain } from "@/lib/diagnosis/quantity-words";
import { sayNumber } from "./verdict";

export interface BuiltValues {
  readonly capacityAh: number;
  readonly loadTestCurrentA: number;
  readonly loadTestSagV: number;
  readonly groupResistanceMilliohm: readonly number[];
  readonly matchingSpreadMillivolt: number;
  readonly insulationMegaohm: number;
  readonly caseGapMillimetre: number | null;
}

/** What the build record says of the quantity of a test, as a sentence; null where it holds nothing of the kind. */
export function builtBeside(testKey: string, built: BuiltValues | null): string | null {
  if (built === null) return null;
  switch (testKey) {
    case "outside":
      return built.caseGapMillimetre === null ? null : `Gap of the case: ${sayNumber(built.caseGapMillimetre)} mm`;
    case "insulation":
      return `${sayNumber(built.insulationMegaohm)} MΩ`;
    case "rest-spread":
      return `${sayNumber(built.matchingSpreadMillivolt)} mV between the cells when they were matched`;
    case "group-resistance":
      return built.groupResistanceMilliohm.length === 0
        ? null
        : `${sayNumber(Math.max(...built.groupResistanceMilliohm))} mΩ in the worst group`;
    case "capacity":
      return `${sayNumber(built.capacityAh)} Ah`;
    case "load-drop":
      return `${sayNumber(built.loadTestSagV)} V lost at ${sayNumber(built.loadTestCurrentA)} A`;
    default:
      return null;
  }
}

export interface BesideMeasurement {
  readonly name: string;
  readonly group: number | null;
  readonly value: number;
  readonly unit: string;
  /** One standard uncertainty; null where none was stated. */
  readonly uncertainty: number | null;
}

/** So many lines beside a test; whoever wants all of them has the table of the readings. */
const MOST_LINES = 4;
/** Standard uncertainties of an expanded one: about 95 in 100 where errors are normal (JCGM 100:2008, 6.3). */
const COVERAGE_FACTOR = 2;

/**
 * What the readings file says near a test, one line a quantity: of many groups the one with the largest value. Shown
 * beside the field and never written into it: other times, temperatures and currents.
 */
export function readingsBeside(beside: readonly string[], measurements: readonly BesideMeasurement[]): string[] {
  const near = measurements.filter(({ name }) => beside.some((start) => name.startsWith(start)));
  const names = [...new Set(near.map(({ name }) => name))].slice(0, MOST_LINES);
  return names.flatMap((name) => {
    const rows = near.filter((row) => row.name === name);
    const [first, ...rest] = rows;
    if (first === undefined) return [];
    const largest = rest.reduce((most, row) => (Math.abs(row.value) > Math.abs(most.value) ? row : most), first);
    const place =
      largest.group === null
        ? ""
        : ` in group ${largest.group}${rows.length > 1 ? `, the most of ${rows.length}` : ""}`;
    const { value, unit, uncertainty } = largest;
    const said =
      uncertainty === null
        ? `${sayQuantity(value, unit)}, uncertainty not stated`
        : `${sayKnownTo(value, COVERAGE_FACTOR * uncertainty, unit)} ± ${sayUncertain(COVERAGE_FACTOR * uncertainty, unit)}`;
    return [`${quantityTitle(name)}: ${said}${place}`];
  });
}
