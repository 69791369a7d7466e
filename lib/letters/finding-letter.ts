import type { Fault } from "@/lib/diagnosis/finding";
import { inPrint } from "@/lib/diagnosis/wording";
import { sayDayIn } from "@/lib/notices/compose-notice";
import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import type { CalendarDate } from "@/lib/warranty/calendar";
import { fillWords } from "./fill-words";
import type { Letter, LetterPart } from "./letter";
import { letterWords } from "./letter-words";
import { type TestTold, tellTest } from "./tell-test";

/** Everything a letter of what was found is written from. Nothing of how the pack was built stands in it. */
export interface FindingFacts {
  readonly language: NoticeLanguage;
  readonly reference: string;
  readonly serialShown: string;
  /** In the customer's own words, quoted as they are. */
  readonly concern: string;
  readonly toldOn: CalendarDate;
  /** The readings file it rests on; null where none was sent. */
  readonly file: { readonly name: string; readonly takenOn: CalendarDate } | null;
  /** Found in the readings, most likely first. */
  readonly findings: readonly {
    readonly fault: Fault;
    readonly groups: readonly number[];
    /** 0 to 1. */
    readonly confidence: number;
    /** The readings for it, in English as the program writes them. */
    readonly readings: readonly string[];
  }[];
  /** Capacity by the readings beside what the model is rated for, in ampere-hours; null where the readings cannot tell. */
  readonly capacity: { readonly foundAh: number; readonly ratedAh: number } | null;
  /** Tests at the bench that count, in the order of the plan. */
  readonly tests: readonly TestTold[];
  /** Confirmed at the bench; null before a decision, "unknown" where nobody can say. */
  readonly confirmedFault: Fault | "unknown" | null;
}

/** Below this a finding is no more than a question to the next test, and a customer is not told of it. Engineering default. */
const WORTH_TELLING = 0.4;
const SURE = 0.85;

/** What was found and by which reading, in the customer's language. What the readings could not tell is said as well. */
export function findingLetter(facts: FindingFacts): Letter {
  const { language, reference, serialShown, concern, toldOn, file, findings, capacity, tests, confirmedFault } = facts;
  const { finding: words, headings, faults, told } = letterWords[language];
  const telling = findings.filter(({ fault, confidence }) => fault !== "no-fault-found" && confidence >= WORTH_TELLING);
  const part = (heading: string, paragraphs: readonly string[], points: readonly string[] = []): LetterPart => ({
    heading,
    paragraphs,
    points,
  });
  const seen = telling.map(({ fault, groups, confidence }) => {
    const named = groups.length === 0 ? faults[fault] : `${faults[fault]} (${words.group} ${groups.join(", ")})`;
    return `${fillWords(confidence >= SURE ? words.surely : words.perhaps, { fault: named })} ${words.signs[fault]}`;
  });
  // A fault that hands and instruments found, and no readings: "nothing shows" would contradict it.
  const namesNoFault: readonly (string | null)[] = [null, "unknown", "no-fault-found"];
  const restsOnTheBench = seen.length === 0 && !namesNoFault.includes(confirmedFault);
  const isUnseen = file === null && tests.length === 0 && confirmedFault === null;
  const number = (value: number) => value.toLocaleString(language, { maximumFractionDigits: 1 });
  const held =
    capacity === null
      ? words.capacityUnknown
      : fillWords(words.capacity, { found: number(capacity.foundAh), rated: number(capacity.ratedAh) });
  const read =
    file === null
      ? [words.noFile]
      : [fillWords(words.file, { name: file.name, day: sayDayIn(language, file.takenOn) }), held];
  const notes = telling.flatMap(({ readings }) => readings.map(inPrint));
  return {
    language,
    title: fillWords(words.title, { reference }),
    parts: [
      part(headings.told, [fillWords(told, { day: sayDayIn(language, toldOn) })], [concern]),
      part(
        headings.found,
        restsOnTheBench
          ? [confirmedSentence()]
          : seen.length === 0
            ? [fillWords(isUnseen ? words.nothingMeasured : words.nothing, { serial: serialShown })]
            : [words.found],
        seen,
      ),
      part(words.byWhich, notes.length === 0 ? read : [...read, words.notes], notes),
      ...(tests.length === 0
        ? []
        : [
            part(
              words.atTheBench,
              [words.tests],
              tests.map((test) => tellTest(language, test)),
            ),
          ]),
      ...(restsOnTheBench ? [] : [part(words.confirmed, [confirmedSentence()])]),
      part(headings.rights, [words.noDecision]),
    ],
  };

  function confirmedSentence(): string {
    if (confirmedFault === null) return isUnseen ? words.nothingYet : words.notYet;
    if (confirmedFault === "unknown") return words.unknown;
    if (confirmedFault === "no-fault-found") return words.noFault;
    return fillWords(words.confirmedAs, { fault: faults[confirmedFault] });
  }
}
