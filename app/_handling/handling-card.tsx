import { Check, X } from "lucide-react";
import type { ReactNode } from "react";
import type { DealerScript } from "@/lib/transport/dealer-script";

interface HandlingCardProps {
  readonly script: DealerScript;
  /** The tape and the large print, while something may happen to somebody. */
  readonly isDanger: boolean;
  /** What was answered lies on this device alone. */
  readonly isUntold?: boolean;
}

/** What to do with the pack now and what to leave undone. The two lists differ by sign and word, not by colour. */
export function HandlingCard({ script, isDanger, isUntold = false }: HandlingCardProps) {
  return (
    <section
      aria-labelledby="handling-title"
      className={isDanger ? "border-2 border-danger bg-danger-paper text-lg" : "card"}
    >
      {isDanger ? <div aria-hidden className="tape" /> : null}
      <div className="space-y-4 p-4">
        <h2 id="handling-title" tabIndex={-1} className={isDanger ? "text-2xl text-danger" : ""}>
          {script.headline}
        </h2>
        {isUntold ? <p className="font-bold">The maker does not know of it yet: call.</p> : null}
        <Instructions title="Do" sentences={script.does} sign={<Check aria-hidden size={22} className="text-good" />} />
        <Instructions
          title="Do not"
          sentences={script.donts}
          sign={<X aria-hidden size={22} className="text-danger" />}
        />
      </div>
    </section>
  );
}

function Instructions({ title, sentences, sign }: { title: string; sentences: readonly string[]; sign: ReactNode }) {
  return (
    <div>
      <h3>{title}</h3>
      <ul className="mt-1 space-y-2">
        {sentences.map((sentence) => (
          <li key={sentence} className="flex items-start gap-2">
            <span className="mt-1 shrink-0">{sign}</span>
            {sentence}
          </li>
        ))}
      </ul>
    </div>
  );
}
