import type { Metadata } from "next";
import { QrCode } from "@/app/_components/qr-code";
import { languagesOnSheet } from "@/lib/transport/who-packs";
import { EmergencyLine } from "../emergency-line";
import { NothingPrinted } from "../nothing-printed";
import { openSheet, type SheetPageProps } from "../open-sheet";
import { readPaper } from "../papers";
import { OtherEndPart, RoutePart } from "../route-part";
import { NotChecked, SaidTwice } from "../said-twice";
import { SheetFrame } from "../sheet-frame";
import { SheetMark } from "../sheet-mark";
import { SourcedList } from "../sourced-list";

export const metadata: Metadata = { title: "Packing sheet" };

const largePapers = ["a4", "letter"] as const;
const allPapers = [...largePapers, "100x150"] as const;

export default async function PackingSheetPage({ params, searchParams }: SheetPageProps) {
  const { found, leg, back } = await openSheet({ params, searchParams }, "packing-sheet");
  if (found.kind === "refused") return <NothingPrinted sentence={found.sentence} back={back} />;
  const { transport, address } = found;
  const { orders, declaration } = transport;
  if (orders?.kind !== "pack" || declaration === null) {
    return <NothingPrinted sentence="There are no packing orders." back={back} />;
  }
  // A way that crosses two sets of rules is packed from the whole sheet: a parcel label has no room for both.
  const offered = orders.route === null ? allPapers : largePapers;
  const paper = readPaper((await searchParams).paper, offered);
  const { packing, alone } = orders;
  const { country } = transport.dealer;
  const isSmall = paper === "100x150";
  const languages = languagesOnSheet(leg, isSmall);
  const contents = [packing.level, ...packing.contents, ...(alone === null ? [] : [alone])];
  return (
    <SheetFrame
      reference={transport.reference}
      sheet="packing-sheet"
      leg={leg}
      paper={paper}
      offered={offered}
      back={back}
    >
      <div className="sheet-row">
        <div>
          <p className="sheet-small">Packing sheet for return</p>
          <h1 className="sheet-reference">{transport.reference}</h1>
          <p>
            {transport.serialShown}, {transport.modelName}, {transport.massKg} kg, {transport.energyWh} Wh
          </p>
          <p>
            {orders.unNumber} {orders.properShippingName}, class 9; {orders.trackName}
          </p>
        </div>
        <QrCode
          text={address}
          label={`QR code: the page of return ${transport.reference}`}
          sizeMm={isSmall ? 20 : 28}
        />
      </div>
      <p className="sheet-no-air">
        <SaidTwice english="NOT BY AIR, POST OR PARCEL" country={country} />
      </p>
      <RoutePart route={orders.route} country={country} languages={languages} />
      <h2 className="sheet-heading">
        Packing by {packing.instruction}
        {packing.largeInstruction === null
          ? ""
          : ` (${packing.largeInstruction} for one large battery in a large packaging)`}
      </h2>
      {isSmall ? (
        <p>
          What that asks for stands on the sheet of A4 or Letter, with the source of every sentence, and on the page of
          the return. Read it first.
        </p>
      ) : (
        <SourcedList texts={contents} />
      )}
      <h2 className="sheet-heading">
        <SaidTwice english="Marks on the package" country={country} languages={languages} />
      </h2>
      <ul className="sheet-list">
        {orders.marks.map((mark) => (
          <li key={mark.text}>
            <SheetMark mark={mark} isSmall={isSmall} />
          </li>
        ))}
      </ul>
      <EmergencyLine phone={transport.emergencyPhone} country={country} languages={languages} />
      <h2 className="sheet-heading">
        <SaidTwice english="Tick before it is handed over" country={country} languages={languages} />
      </h2>
      <ul className="sheet-ticks">
        {orders.checklist.map(({ text }) => (
          <li key={text}>
            <span aria-hidden className="sheet-tick" />
            <span>
              <SaidTwice english={text} country={country} languages={languages} />
            </span>
          </li>
        ))}
      </ul>
      <p className="sheet-sign">
        <SaidTwice english="Packed by, trained until, date, signature" country={country} languages={languages} />
      </p>
      <NotChecked country={country} languages={languages} />
      <p className="sheet-source">
        Class declared by {declaration.declaredByName} under rules version {declaration.ruleVersion}. Rules belong to{" "}
        {transport.rules.owner}; sentences “from memory” must be compared with their source. Local rules come first.
      </p>
      {isSmall ? null : (
        <div className="sheet-second">
          <p className="sheet-small">To the packing sheet for return {transport.reference}</p>
          <h2 className="sheet-heading-large">
            <SaidTwice english="In the transport document" country={country} languages={languages} />
          </h2>
          <SourcedList texts={packing.documentEntries} />
          <h2 className="sheet-heading">
            <SaidTwice english="Besides" country={country} languages={languages} />
          </h2>
          <SourcedList texts={[...orders.air, ...orders.remarks]} />
          <OtherEndPart route={orders.route} />
        </div>
      )}
    </SheetFrame>
  );
}
