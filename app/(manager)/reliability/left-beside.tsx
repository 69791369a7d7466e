import { type BesideForecast, costAgain, totalAgain } from "@/lib/reliability/beside-forecast";
import type { Horizon } from "@/lib/reliability/forecast-horizon";
import { grouped } from "@/lib/reliability/plain-share";
import type { BesideRunning } from "@/lib/reliability/waiting-returns";
import { backInUseSentence, waitingSentence } from "@/lib/reliability/waiting-sentences";
import { PacksLink } from "./packs/packs-link";

interface LeftBesideProps {
  readonly waiting: readonly BesideRunning[];
  readonly undecided: number;
  readonly beside: readonly BesideForecast[];
  readonly horizon: Horizon;
  /** "in the next 6 months". */
  readonly until: string;
  /** Whether the reader may open lists of packs. */
  readonly linked: boolean;
}

/** What is known of packs and in no number of the forecast: returns not decided, and packs put right that run again. */
export function LeftBeside({ waiting, undecided, beside, horizon, until, linked }: LeftBesideProps) {
  const failures = totalAgain(beside, horizon);
  const again = failures === null ? null : { failures, cost: costAgain(beside, waiting, horizon) };
  return (
    <>
      <li>
        {undecided === 0 ? waitingSentence(0, null) : "Returns not decided yet, told above, by revision:"}{" "}
        <ByRevision {...{ waiting, linked }} of="undecided" />
      </li>
      <li>
        {backInUseSentence(waiting, again, until)} <ByRevision {...{ waiting, linked }} of="back-in-use" />
      </li>
    </>
  );
}

function ByRevision({
  waiting,
  linked,
  of,
}: Pick<LeftBesideProps, "waiting" | "linked"> & { readonly of: "undecided" | "back-in-use" }) {
  const counts = waiting.map((one) => ({
    group: one.group,
    packs: of === "undecided" ? one.undecided : one.backInUse,
  }));
  const some = counts.filter(({ packs }) => packs > 0);
  if (some.length === 0) return null;
  return (
    <span className="flex flex-wrap gap-x-4">
      {some.map(({ group, packs }) => (
        <span key={group}>
          {group}: {linked ? <PacksLink by="revision" group={group} list={of} count={packs} /> : grouped(packs)}
        </span>
      ))}
    </span>
  );
}
