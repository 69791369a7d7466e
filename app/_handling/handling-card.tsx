import { Check, X } from "lucide-react";
import type { ReactNode } from "react";
import { type DealerScript, listTitles } from "@/lib/transport/dealer-script";
import { notChecked } from "@/lib/transport/said-also";

interface HandlingCardProps {
  readonly script: DealerScript;
  /** The tape and the large print, while something may happen to somebody. */
  readonly isDanger: boolean;
  /** What was answered lies on this device alone. */
  readonly isUntold?: boolean;
}

/** What to do with the pack now and what to leave undone. The two lists differ by sign and word, not by colour. */
export function HandlingCard({ script, isDanger, isUntold = false }: HandlingCardProps) {
  const isTranslated = [script.headline, ...script.does, ...script.donts].some((english) => english in script.also);
  return (
    <section
      aria-labelledby="handling-title"
      className={isDanger ? "border-2 border-danger bg-danger-paper text-lg" : "card"}
    >
      {isDanger ? <div aria-hidden className="tape" /> : null}
      <div className="space-y-4 p-4">
        <h2 id="handling-title" tabIndex={-1} className={isDanger ? "text-2xl text-danger" : ""}>
          <SaidTwice english={script.headline} script={script} />
        </h2>
        {isUntold ? <p className="font-bold">The maker does not know of it yet: call.</p> : null}
        <Instructions
          title={listTitles.does}
          script={script}
          sentences={script.does}
          sign={<Check aria-hidden size={22} className="text-good" />}
        />
        <Instructions
          title={listTitles.donts}
          script={script}
          sentences={script.donts}
          sign={<X aria-hidden size={22} className="text-danger" />}
        />
        {isTranslated ? (
          <p lang={script.language} className="text-base text-soft">
            {script.also[notChecked.beside]}
          </p>
        ) : null}
      </div>
    </section>
  );
}

/** In the dealer's language first, because that hand acts; the English below is what was approved. */
function SaidTwice({ english, script: { also, language } }: { english: string; script: DealerScript }) {
  const said = also[english];
  if (said === undefined) return english;
  return (
    <>
      <span lang={language} className="block">
        {said}
      </span>
      <span className="block text-base font-normal text-soft">{english}</span>
    </>
  );
}

interface InstructionsProps {
  readonly title: string;
  readonly script: DealerScript;
  readonly sentences: readonly string[];
  readonly sign: ReactNode;
}

function Instructions({ title, script, sentences, sign }: InstructionsProps) {
  return (
    <div>
      <h3>
        <SaidTwice english={title} script={script} />
      </h3>
      <ul className="mt-1 space-y-2">
        {sentences.map((sentence) => (
          <li key={sentence} className="flex items-start gap-2">
            <span className="mt-1 shrink-0">{sign}</span>
            <span>
              <SaidTwice english={sentence} script={script} />
            </span>
          </li>
        ))}
      </ul>
    </div>
  );
}
