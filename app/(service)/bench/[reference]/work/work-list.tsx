import { OneStepForm } from "@/app/_components/one-step-form";
import type { WorkPage } from "@/lib/data/bench-tests/work-page";
import { ChangeLine } from "../change-line";
import { strikeWorkAction } from "./actions";

/** The work that stands; a mistake is struck out with a reason, never edited. */
export function WorkList({ page: { work, reference }, mayStrike }: { page: WorkPage; mayStrike: boolean }) {
  if (work.length === 0) return <p className="text-soft">No work is recorded yet.</p>;
  return (
    <div className="space-y-4">
      {work.map((change) => (
        <div key={change.id} className="space-y-2">
          <ul>
            <ChangeLine change={change} />
          </ul>
          {mayStrike ? (
            <OneStepForm
              action={strikeWorkAction}
              hidden={{ reference, entryId: change.id }}
              button="Strike it out"
              spoken={`Strike out: ${change.note}`}
              asks="Recorded by mistake because"
            />
          ) : null}
        </div>
      ))}
    </div>
  );
}
