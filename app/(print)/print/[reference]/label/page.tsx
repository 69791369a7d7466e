import type { Metadata } from "next";
import { QrCode } from "@/app/_components/qr-code";
import { languagesOnSheet } from "@/lib/transport/who-packs";
import { addressesOf } from "../addresses";
import { EmergencyLine } from "../emergency-line";
import { NothingPrinted } from "../nothing-printed";
import { openSheet, type SheetPageProps } from "../open-sheet";
import { readPaper } from "../papers";
import { RoutePart } from "../route-part";
import { NotChecked, SaidTwice } from "../said-twice";
import { SheetFrame } from "../sheet-frame";
import { SheetMark } from "../sheet-mark";

export const metadata: Metadata = { title: "Label" };

const offered = ["100x150", "a4", "letter"] as const;

export default async function LabelPage({ params, searchParams }: SheetPageProps) {
  const { found, leg, back } = await openSheet({ params, searchParams }, "label");
  if (found.kind === "refused") return <NothingPrinted sentence={found.sentence} back={back} />;
  const { transport, address } = found;
  const { from, to } = addressesOf(found);
  const { orders } = transport;
  const { country } = transport.dealer;
  if (orders?.kind !== "pack") return <NothingPrinted sentence="There are no packing orders." back={back} />;
  const paper = readPaper((await searchParams).paper, offered);
  const isSmall = paper === "100x150";
  const languages = languagesOnSheet(leg, isSmall);
  return (
    <SheetFrame reference={transport.reference} sheet="label" leg={leg} paper={paper} offered={offered} back={back}>
      <div className="sheet-label">
        <div className="sheet-row">
          <div>
            <p className="sheet-small">Return</p>
            <h1 className="sheet-reference">{transport.reference}</h1>
            <p className="sheet-small">Pack {transport.serialShown}</p>
          </div>
          <QrCode text={address} label={`QR code: the page of return ${transport.reference}`} sizeMm={30} />
        </div>
        <div className="sheet-box">
          <p className="sheet-small">To</p>
          {to.map((line) => (
            <p key={line} className="sheet-strong">
              {line}
            </p>
          ))}
          <p className="sheet-small">From {from.join(", ")}</p>
        </div>
        <div className="sheet-box">
          <p className="sheet-small">
            <SaidTwice english="Marks that must stand on the package" country={country} languages={languages} />
          </p>
          <ul>
            {orders.marks.map((mark) => (
              <li key={mark.text} className="sheet-mark">
                <SheetMark mark={mark} isSmall={isSmall} />
              </li>
            ))}
          </ul>
          <p className="sheet-small">
            {orders.unNumber} {orders.properShippingName}, class 9, packed by {orders.packing.instruction}.{" "}
            <SaidTwice
              english="This paper is no mark: put the marks on the package itself."
              country={country}
              languages={languages}
            />
          </p>
          <RoutePart route={orders.route} country={country} languages={languages} />
          <EmergencyLine phone={transport.emergencyPhone} country={country} languages={languages} />
          <NotChecked country={country} languages={languages} />
        </div>
        <p className="sheet-no-air">
          {["DO NOT FLY.", "ROAD OR SEA ONLY."].map((english) => (
            <span key={english}>
              <SaidTwice english={english} country={country} />{" "}
            </span>
          ))}
        </p>
      </div>
    </SheetFrame>
  );
}
