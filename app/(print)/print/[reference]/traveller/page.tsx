import type { Metadata } from "next";
import { QrCode } from "@/app/_components/qr-code";
import { classOnPaper } from "@/lib/transport/class-on-paper";
import { NothingPrinted } from "../nothing-printed";
import { openSheet, type SheetPageProps } from "../open-sheet";
import { readPaper } from "../papers";
import { NotChecked, SaidTwice } from "../said-twice";
import { SheetFrame } from "../sheet-frame";

export const metadata: Metadata = { title: "Traveller" };

const offered = ["a4", "letter", "100x150"] as const;

const stations = ["Came in", "In quarantine", "On the bench", "In the workshop", "Released", "Handed over"] as const;

export default async function TravellerPage({ params, searchParams }: SheetPageProps) {
  const { found, back } = await openSheet({ params }, "traveller");
  if (found.kind === "refused") return <NothingPrinted sentence={found.sentence} back={back} />;
  const { transport, address } = found;
  const paper = readPaper((await searchParams).paper, offered);
  return (
    <SheetFrame reference={transport.reference} sheet="traveller" paper={paper} offered={offered} back={back}>
      <p className="sheet-small">Traveller: stays with the pack</p>
      <div className="sheet-row">
        <div>
          <h1 className={paper === "100x150" ? "sheet-reference" : "sheet-reference-large"}>{transport.reference}</h1>
          <p className="sheet-strong">{transport.serialShown}</p>
          <p>
            {transport.modelName}, revision {transport.revisionCode}
          </p>
          <p>
            {transport.massKg} kg, {transport.energyWh} Wh
          </p>
        </div>
        <QrCode
          text={address}
          label={`QR code: the page of return ${transport.reference}`}
          sizeMm={paper === "100x150" ? 32 : 48}
        />
      </div>
      <div className="sheet-box">
        <p className="sheet-strong">
          {classOnPaper(transport.declaration?.transportClass ?? null, transport.proposal.transportClass)}
        </p>
        {transport.frozenBecause.map((sentence) => (
          <p key={sentence} className="sheet-strong">
            HELD. {sentence}
          </p>
        ))}
        <p>
          <SaidTwice
            english="Do not charge, open or connect it before its page was looked at. Step back if it gets warm, swells, smells or hisses."
            country={transport.dealer.country}
          />
        </p>
        <NotChecked country={transport.dealer.country} />
      </div>
      <table className="sheet-table">
        <thead>
          <tr>
            <th className="sheet-station">Station</th>
            <th>Day, time</th>
            <th>Name</th>
          </tr>
        </thead>
        <tbody>
          {stations.map((station) => (
            <tr key={station}>
              <th scope="row">{station}</th>
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
    </SheetFrame>
  );
}
