import { markedLines } from "@/app/_components/marked-lines";
import { MarkedList } from "@/app/_components/marked-list";
import { countryName } from "@/lib/transport/country-name";
import { markSentences } from "@/lib/transport/package-mark";
import type { Packing, TransportRules } from "@/lib/transport/rule-set.schema";
import { transportClasses, transportClassLabels } from "@/lib/transport/transport-class";

/** All that a version says, every sentence with its source. */
export function RuleList({ rules }: { rules: TransportRules }) {
  const { definition, meanings, tracks, air, aloneAboveKg, authorisationDays, checklist, dealerScripts } = rules;
  return (
    <div className="space-y-6">
      <section className="space-y-3">
        <h3>What counts as damaged or defective</h3>
        <MarkedList lines={markedLines(definition)} />
      </section>
      <section className="space-y-3">
        <h3>What each class means</h3>
        <MarkedList
          lines={markedLines(
            transportClasses.map((one) => ({
              ...meanings[one],
              text: `${transportClassLabels[one]}. ${meanings[one].text}`,
            })),
          )}
        />
      </section>
      {tracks.map((track) => (
        <details key={track.name} className="card">
          <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">
            {track.name}: from {track.countries.map(countryName).join(", ")}
          </summary>
          <div className="space-y-3 border-t border-rule p-3">
            <PackingRules title="Damaged or defective" packing={track.damaged} />
            <PackingRules title="Not damaged or defective" packing={track.notDamaged} />
            <h4 className="font-semibold">Do not ship: what a specialist packs by</h4>
            <MarkedList lines={markedLines(track.critical)} />
            <h4 className="font-semibold">Besides</h4>
            <MarkedList lines={markedLines(track.remarks)} />
          </div>
        </details>
      ))}
      <section className="space-y-3">
        <h3>Air, mass, time</h3>
        <MarkedList lines={markedLines([...air, aloneAboveKg.rule])} />
        <p>Leave to send holds for {authorisationDays} days [rule of this house].</p>
      </section>
      <section className="space-y-3">
        <h3>Before it is handed over</h3>
        <MarkedList ordered lines={markedLines(checklist)} />
      </section>
      {(["keep-away", "set-apart", "none"] as const).map((danger) => (
        <details key={danger} className="card">
          <summary className="min-h-12 cursor-pointer px-3 py-3 font-semibold">
            What a dealer is told: {dealerScripts[danger].headline.toLowerCase()}
          </summary>
          <div className="space-y-3 border-t border-rule p-3">
            <h4 className="font-semibold">Do</h4>
            <MarkedList lines={markedLines(dealerScripts[danger].does)} />
            <h4 className="font-semibold">Do not</h4>
            <MarkedList lines={markedLines(dealerScripts[danger].donts)} />
          </div>
        </details>
      ))}
    </div>
  );
}

function PackingRules({ title, packing }: { title: string; packing: Packing }) {
  const { instruction, largeInstruction, level, contents, marks, documentEntries } = packing;
  return (
    <>
      <h4 className="font-semibold">
        {title}: {instruction}
        {largeInstruction === null ? "" : `, or ${largeInstruction}`}
      </h4>
      <MarkedList lines={markedLines([level, ...contents, ...markSentences(marks), ...documentEntries])} />
    </>
  );
}
