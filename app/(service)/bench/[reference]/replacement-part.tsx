import { Check, X } from "lucide-react";
import type { BenchReturn } from "@/lib/data/returns/bench-returns";
import { BenchSection } from "./bench-section";

/** Which revision may take the place of this pack, and why another may not. */
export function ReplacementPart({ replacement }: { replacement: BenchReturn["check"]["replacement"] }) {
  return (
    <BenchSection title="What may replace it">
      {replacement.kind === "none" ? <p>{replacement.sentence}</p> : null}
      <ul className="space-y-2">
        {replacement.kind === "may-replace"
          ? replacement.options.map(({ revisionCode, note, avoidLotCodes }) => (
              <li key={revisionCode} className="flex items-start gap-2">
                <Check aria-hidden size={20} className="mt-0.5 shrink-0 text-good" />
                <span>
                  <strong>{revisionCode} may.</strong> {note}
                  {avoidLotCodes.length === 0 ? null : (
                    <span className="block font-semibold text-danger">
                      Not one with lot {avoidLotCodes.join(" or ")}: that lot is stopped.
                    </span>
                  )}
                </span>
              </li>
            ))
          : null}
        {replacement.refused.map(({ revisionCode, sentence }) => (
          <li key={revisionCode} className="flex items-start gap-2">
            <X aria-hidden size={20} className="mt-0.5 shrink-0 text-danger" />
            <span>
              <strong>{revisionCode} may not.</strong> {sentence}
            </span>
          </li>
        ))}
      </ul>
    </BenchSection>
  );
}
