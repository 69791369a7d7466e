import type { Metadata } from "next";
import { countryName } from "@/lib/transport/country-name";
import { sayMark } from "@/lib/transport/sourced-text";
import { usedBatteryStatement } from "@/lib/transport/used-battery-statement";
import { NothingPrinted } from "../nothing-printed";
import { openSheet, type SheetPageProps } from "../open-sheet";
import { readPaper } from "../papers";
import { NotChecked, SaidTwice } from "../said-twice";
import { SheetFrame } from "../sheet-frame";

export const metadata: Metadata = { title: "Statement for a used battery" };

const offered = ["a4", "letter"] as const;

export default async function StatementPage({ params, searchParams }: SheetPageProps) {
  const { found, back } = await openSheet({ params }, "used-battery-statement");
  if (found.kind === "refused") return <NothingPrinted sentence={found.sentence} back={back} />;
  const { transport, returnAddress } = found;
  const paper = readPaper((await searchParams).paper, offered);
  const { dealer } = transport;
  const { title, forCounsel, statements, enclosures } = usedBatteryStatement(dealer.country);
  return (
    <SheetFrame
      reference={transport.reference}
      sheet="used-battery-statement"
      paper={paper}
      offered={offered}
      back={back}
    >
      <p className="sheet-strong">{forCounsel}</p>
      <h1 className="sheet-reference">
        <SaidTwice english={title} country={dealer.country} />
      </h1>
      <p>
        Return {transport.reference}. Battery {transport.serialShown}, {transport.modelName}, {transport.massKg} kg,{" "}
        {transport.energyWh} Wh. Test summary (UN 38.3.5): {transport.testSummaryReference}.
      </p>
      <div className="sheet-row">
        <div className="sheet-box">
          <p className="sheet-small">Holder, sends</p>
          <p>
            {dealer.name}, {dealer.town}, {countryName(dealer.country)}
          </p>
        </div>
        <div className="sheet-box">
          <p className="sheet-small">Manufacturer, or who acts for it, receives</p>
          {returnAddress.map((line) => (
            <p key={line}>{line}</p>
          ))}
        </div>
      </div>
      <ol className="sheet-list">
        {statements.map(({ text, mark }) => (
          <li key={text}>
            <SaidTwice english={text} country={dealer.country} />{" "}
            <span className="sheet-source">[{sayMark(mark)}]</span>
          </li>
        ))}
      </ol>
      <h2 className="sheet-heading">Enclosed</h2>
      <ul className="sheet-ticks">
        {enclosures.map(({ text, mark }) => (
          <li key={text}>
            <span aria-hidden className="sheet-tick" />
            <span>
              <SaidTwice english={text} country={dealer.country} /> (reference: ____________________){" "}
              <span className="sheet-source">[{sayMark(mark)}]</span>
            </span>
          </li>
        ))}
      </ul>
      <NotChecked country={dealer.country} />
      <p className="sheet-sign">Holder: name, place, date, signature</p>
    </SheetFrame>
  );
}
