import { LocalTime } from "@/app/_components/local-time";
import { SerialText } from "@/app/_components/serial-text";
import { Stamp } from "@/app/_components/status-line";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { queueRisk } from "@/lib/returns/queue-risk";
import { returnStatusWords } from "@/lib/returns/return-status";
import { HeldStamp } from "./bench-section";

/** Which return this is, where it stands, who has it, and the risk: all before anything else. */
export function ReturnHead({ page }: { page: BenchReturn }) {
  const found = page.readings?.findings.map(({ safetyClass }) => safetyClass) ?? [];
  const risk = queueRisk(page.dangerSigns, found, page.next.safety.state, page.suggestion?.remedy ?? null);
  return (
    <div className="flex flex-wrap items-end justify-between gap-x-8 gap-y-3">
      <h1>
        <span className="caption-print block">Return</span>
        <SerialText large>{page.reference}</SerialText>
      </h1>
      <div className="space-y-1 sm:text-right">
        <p className="flex flex-wrap gap-2 sm:justify-end">
          <Stamp tone={risk.tone}>{risk.words}</Stamp>
          {page.next.hold.state === "held" ? <HeldStamp /> : null}
          <Stamp tone={page.status === "decided" ? "good" : "plain"}>
            {returnStatusWords(page.status, page.decision?.remedy ?? null)}
          </Stamp>
        </p>
        <p className="text-soft">
          {page.takenByName === null ? "Nobody has it yet" : `${page.takenByName} has it`}; sent in on{" "}
          <LocalTime at={page.lodgedAt} />
        </p>
      </div>
    </div>
  );
}
