import { faultWords } from "@/lib/diagnosis/fault-words";
import type { Finding } from "@/lib/diagnosis/finding";
import { type RemedyForFault, remedyForFault } from "@/lib/diagnosis/remedy-for-fault";
import { areRivals } from "@/lib/diagnosis/rivals";
import type { SuggestionContext } from "@/lib/diagnosis/suggestion-context";

/** Confidence from which a finding behind the likeliest keeps a pack from being put right from afar. Engineering default. */
const countsBehind = 0.2;
/** Confidence from which its own remedy takes the place, rather than "cannot tell". Engineering default. */
const surelyAlsoTrue = 0.5;

/**
 * The remedy of the likeliest finding, unless it would leave the pack unseen while another finding says that it is not
 * sound: then the other's remedy where it is sure and true besides, else the bench has to see it first.
 */
export function remedyOfAll(
  leading: Finding,
  findings: readonly Finding[],
  context: SuggestionContext,
): RemedyForFault {
  const own = remedyForFault(leading, context);
  if (own.remedy !== "remote-fix" && own.remedy !== "return-as-is") return own;
  const behind = findings.filter(
    (other) => other !== leading && other.safetyClass !== "C" && other.confidence >= countsBehind,
  );
  const [gravest] = behind;
  if (gravest === undefined) return own;
  const sure = behind.find((other) => other.confidence >= surelyAlsoTrue && !areRivals(leading, other));
  if (sure !== undefined) {
    const { remedy, because } = remedyForFault(sure, context);
    return { remedy, because: [`It is not put right from afar: ${named(sure)} was found as well.`, ...because] };
  }
  return {
    remedy: "cannot-tell",
    because: [`It is not put right from afar while ${named(gravest)} is not excluded: the bench has to see it first.`],
  };
}

function named({ fault }: Finding): string {
  return faultWords[fault].toLowerCase();
}
