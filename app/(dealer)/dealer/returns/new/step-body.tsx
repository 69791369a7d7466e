import type { PackCard } from "@/lib/data/packs/packs";
import type { DealerScripts } from "@/lib/transport/dealer-script";
import { AskConditions } from "./ask-conditions";
import { AskDanger } from "./ask-danger";
import { AskDates } from "./ask-dates";
import { AskReadings } from "./ask-readings";
import { AskSale } from "./ask-sale";
import { AskSerial } from "./ask-serial";
import { AskSymptom } from "./ask-symptom";
import { AskWords } from "./ask-words";
import { CheckAnswers } from "./check-answers";
import type { KeptReading } from "./draft";
import type { StepName } from "./steps";

interface StepBodyProps {
  readonly scripts: DealerScripts;
  /** What is answered here has not reached the maker. */
  readonly isUntold: boolean;
  readonly step: StepName;
  readonly pack: PackCard | null;
  readonly reading: KeptReading | null;
  readonly onReading: (reading: KeptReading | null) => void;
  readonly onFind: () => void;
  readonly onGo: (step: StepName, then: "check") => void;
}

export function StepBody({ scripts, isUntold, step, pack, reading, onReading, onFind, onGo }: StepBodyProps) {
  switch (step) {
    case "danger":
      return <AskDanger scripts={scripts} isUntold={isUntold} />;
    case "serial":
      return <AskSerial pack={pack} onFind={onFind} />;
    case "sale":
      return <AskSale today={pack?.today} cameAsReplacement={pack?.cameAsReplacement === true} />;
    case "dates":
      return <AskDates today={pack?.today} />;
    case "words":
      return <AskWords />;
    case "symptom":
      return <AskSymptom />;
    case "conditions":
      return <AskConditions />;
    case "readings":
      return pack === null ? null : <AskReadings pack={pack} reading={reading} onReading={onReading} />;
    case "check":
      return <CheckAnswers pack={pack} reading={reading} onGo={onGo} />;
    default: {
      const never: never = step;
      return never;
    }
  }
}
