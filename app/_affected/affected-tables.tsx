import { CalendarDay } from "@/app/_components/calendar-day";
import { type Column, DataTable } from "@/app/_components/data-table";
import { SerialText } from "@/app/_components/serial-text";
import {
  type AffectedPack,
  affectedPlaces,
  affectedPlaceWords,
  type CountryRow,
  countByPlace,
  packsByCountry,
} from "@/lib/reliability/affected-packs";
import { grouped } from "@/lib/reliability/plain-share";
import { countryName } from "@/lib/transport/country-name";

/** How many packs lie where in each country, and one row for all. */
export function CountryTable({ packs }: { readonly packs: readonly AffectedPack[] }) {
  const all: CountryRow = { country: ALL, packs: countByPlace(packs), total: packs.length };
  return (
    <DataTable
      entriesWhenNarrow
      caption="Where they are, by country of the dealer"
      columns={countryColumns}
      rows={[...packsByCountry(packs), all]}
      rowKey={({ country }) => country ?? "none"}
      whenEmpty="No pack is like that today."
    />
  );
}

const ALL = "All";

const nameOf = (country: string | null) =>
  country === null ? "no dealer yet" : country === ALL ? ALL : countryName(country);

const countryColumns: readonly Column<CountryRow>[] = [
  { head: "Country", cell: ({ country }) => nameOf(country) },
  ...affectedPlaces.map(
    (place): Column<CountryRow> => ({
      head: affectedPlaceWords[place],
      numeric: true,
      cell: ({ packs }) => grouped(packs[place]),
    }),
  ),
  { head: "Packs", numeric: true, cell: ({ total }) => grouped(total) },
];

/** The packs one by one, those first that can still be held back. */
export function AffectedTable({ packs }: { readonly packs: readonly AffectedPack[] }) {
  return (
    <DataTable
      entriesWhenNarrow
      caption="The packs, those first that can still be held back"
      columns={packColumns}
      rows={packs}
      rowKey={({ serial }) => serial}
      whenEmpty="No pack is like that today."
    />
  );
}

const packColumns: readonly Column<AffectedPack>[] = [
  { head: "Serial", cell: ({ serialShown }) => <SerialText>{serialShown}</SerialText> },
  { head: "Where it is", cell: ({ place }) => affectedPlaceWords[place] },
  { head: "Dealer", cell: ({ dealer }) => dealer ?? "none yet" },
  { head: "Country", short: true, cell: ({ country }) => (country === null ? "" : countryName(country)) },
  {
    head: "Sold on",
    short: true,
    cell: ({ soldOn }) => (soldOn === null ? "not known" : <CalendarDay date={soldOn} />),
  },
  { head: "Revision", short: true, cell: ({ revision }) => revision },
  { head: "Built on", short: true, cell: ({ builtOn }) => <CalendarDay date={builtOn} /> },
  { head: "Confirmed failure", short: true, cell: ({ hasFailed }) => (hasFailed ? "yes" : "none") },
];
