import { sayDayIn } from "@/lib/notices/compose-notice";
import { sayMoneyIn } from "@/lib/settlement/money";
import { fillWords } from "./fill-words";
import type { LetterDecision, LetterFacts, LetterOutcome, LetterPart } from "./letter";
import { letterWords } from "./letter-words";

/**
 * The letter of a decision, built from its evidence. A refusal without its term, its evidence, the alternatives
 * considered or a way to object is no letter: what is missing is named instead (common practice, no source).
 */
export function decisionLetter(facts: LetterFacts): LetterOutcome {
  const missing = whatIsMissing(facts);
  if (missing.length > 0) return { kind: "incomplete", missing };
  const { language, reference, concern, toldOn, cover, faults, readings, objection } = facts;
  const words = letterWords[language];
  const { headings } = words;
  const day = (date: LetterFacts["toldOn"]) => sayDayIn(language, date);
  const part = (heading: string, paragraphs: readonly string[], points: readonly string[] = []): LetterPart => ({
    heading,
    paragraphs,
    points,
  });
  const named = faults.filter((fault) => fault !== "no-fault-found").map((fault) => words.faults[fault]);
  const found = named.length === 0 ? words.foundNothing : fillWords(words.foundFaults, { faults: named.join(", ") });
  // What the program wrote of the readings is English; how such a fault shows is said in the letter's own language first.
  const signs = readings.length === 0 ? [] : faults.map((fault) => words.finding.signs[fault]);
  const evidence = [...signs, ...facts.evidence];
  const dates =
    cover.startsOn === null || cover.endsOn === null
      ? []
      : [fillWords(words.coverDates, { start: day(cover.startsOn), end: day(cover.endsOn), day: day(toldOn) })];
  return {
    kind: "letter",
    letter: {
      language,
      title: fillWords(words.title, { reference }),
      parts: [
        part(headings.decision, [...decided(facts), ...(facts.isGoodwill ? [words.goodwill] : [])]),
        part(headings.told, [fillWords(words.told, { day: day(toldOn) })], [concern]),
        part(headings.found, evidence.length === 0 ? [found] : [found, words.evidence], evidence),
        ...(readings.length === 0 ? [] : [part(words.finding.byWhich, [words.finding.notes], readings)]),
        part(headings.cover, [words.cover[cover.outcome], ...dates]),
        part(headings.why, [words.reason], [facts.reason]),
        ...(facts.term === null ? [] : [part(headings.why, [words.term], [facts.term])]),
        ...(facts.alternatives.length === 0
          ? []
          : [part(headings.alternatives, [words.alternatives], facts.alternatives)]),
        ...comesBackPart(facts),
        part(headings.object, [
          objection.until === null
            ? fillWords(words.objectWithin, { days: String(objection.days), how: objection.how })
            : fillWords(words.object, { until: day(objection.until), how: objection.how }),
        ]),
        part(headings.rights, [words.rights]),
      ],
    },
  };
}

/** What the customer was given before and gives back now, so that nobody learns of it only when it is missed. */
function comesBackPart({ language, comesBack }: LetterFacts): LetterPart[] {
  if (comesBack === null) return [];
  const words = letterWords[language];
  const { by } = comesBack;
  const said = by === null ? words.nothingComesBack : fillWords(words.comesBack, { until: sayDayIn(language, by) });
  return [{ heading: words.headings.comesBack, paragraphs: [said], points: [comesBack.words] }];
}

/** What was decided; of a refund how much it is, in all and still to come. */
function decided({ language, decision, serialShown, refund }: LetterFacts): string[] {
  const words = letterWords[language];
  if (decision !== "refund" || refund === null) return [fillWords(words.decisions[decision], { serial: serialShown })];
  const { minor, currency, paidBeforeMinor } = refund;
  const amount = sayMoneyIn(language, minor, currency);
  const said = fillWords(words.decisions.refund, { serial: serialShown, amount });
  const before = { paid: sayMoneyIn(language, Math.min(paidBeforeMinor, minor), currency) };
  return paidBeforeMinor > 0 ? [said, fillWords(words.refundPaidBefore, before)] : [said];
}

/** Told to a customer who gets no remedy: each names what a refusal names. */
const withoutRemedy: readonly LetterDecision[] = ["refuse", "returned-unchanged", "dispose-safely"];

function whatIsMissing({
  decision,
  refund,
  term,
  evidence,
  readings,
  alternatives,
  reason,
  objection,
  decidedOn,
}: LetterFacts): string[] {
  const isRefusal = withoutRemedy.includes(decision);
  const said = (lines: readonly string[]) => lines.some((line) => line.trim() !== "");
  return [
    ...(reason.trim() === "" ? ["The reason, in the words of whoever decided."] : []),
    ...(decision === "refund" && refund === null ? ["How much is paid back."] : []),
    ...(objection.how.trim() === "" || (objection.until === null ? objection.days < 1 : objection.until <= decidedOn)
      ? ["How, and until when, the customer may object."]
      : []),
    ...(isRefusal && (term === null || term.trim() === "") ? ["The term of the guarantee the refusal rests on."] : []),
    ...(isRefusal && !said([...evidence, ...readings])
      ? ["The evidence: a photograph, a measurement or a line of the file."]
      : []),
    ...(isRefusal && !said(alternatives) ? ["The other explanations that were considered."] : []),
  ];
}
