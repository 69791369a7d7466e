import { CalendarDay } from "@/app/_components/calendar-day";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { Stamp } from "@/app/_components/status-line";
import { asFoundStates, asFoundWords } from "@/lib/bench-tests/doubtful-result";
import { instrumentKindWords, instrumentUnits } from "@/lib/bench-tests/instrument-kinds";
import type { InstrumentView } from "@/lib/data/bench-tests/instruments";
import { recordCalibrationAction } from "./actions";

/** Days before the end from which the next calibration is to be thought of. */
const SOON_DAYS = 30;

/** One instrument: whether it may be used today, its certificates, and the form for the next. */
export function InstrumentCard({ instrument, mayKeep }: { instrument: InstrumentView; mayKeep: boolean }) {
  const { code, kind, description, standing, calibrations } = instrument;
  const unit = instrumentUnits[kind];
  return (
    <article className="card space-y-3 p-4">
      <div className="flex flex-wrap items-center gap-3">
        <h2 className="text-xl font-bold">{code}</h2>
        {standing.kind === "usable" ? (
          <Stamp tone={standing.daysLeft <= SOON_DAYS ? "warn" : "good"}>
            {standing.daysLeft <= SOON_DAYS ? `${standing.daysLeft} days left` : "May be used"}
          </Stamp>
        ) : (
          <Stamp tone="danger">Not to be used</Stamp>
        )}
      </div>
      <p>
        {instrumentKindWords[kind]}, {unit}. {description}
      </p>
      {standing.kind === "usable" ? null : <p className="font-semibold text-danger">{standing.sentence}</p>}
      <ul className="space-y-1">
        {[...calibrations].reverse().map((one) => (
          <li key={one.id}>
            {one.outcome === "passed" && one.dueOn !== null ? (
              <>
                Calibrated <CalendarDay date={one.calibratedOn} />, until <CalendarDay date={one.dueOn} />, ±
                {one.uncertaintyPercent === 0 ? "" : ` ${one.uncertaintyPercent} % of the value`}
                {one.uncertaintyPercent > 0 && one.uncertaintyFloor > 0 ? " and" : ""}
                {one.uncertaintyFloor === 0 ? "" : ` ${one.uncertaintyFloor} ${unit}`} (coverage factor 2)
              </>
            ) : (
              <>
                Out of use from <CalendarDay date={one.calibratedOn} />
              </>
            )}
            <span className="block text-sm text-soft">
              {one.certificate}, {one.recordedByName}
              {one.asFound === null ? "" : `. As found: ${asFoundWords[one.asFound].toLowerCase()}`}
            </span>
          </li>
        ))}
      </ul>
      {mayKeep ? (
        <details>
          <summary className="flex min-h-11 cursor-pointer items-center font-semibold text-accent underline underline-offset-4">
            Add a certificate, or take it out of use
          </summary>
          <QuestionForm
            id={`cal-${code}`}
            action={recordCalibrationAction}
            hidden={{ code }}
            questions={questionsFor(unit)}
            button="Keep it"
          />
        </details>
      ) : null}
    </article>
  );
}

const questionsFor = (unit: string): FormQuestion[] => [
  {
    name: "outcome",
    label: "What came of it",
    choices: [
      { value: "passed", label: "Calibrated" },
      { value: "out-of-use", label: "Out of use" },
    ],
  },
  {
    name: "asFound",
    label: "How it was found, before anybody adjusted it",
    hint: "Off, or nobody can tell: what was measured with it since its last good calibration is put in doubt.",
    choices: [{ value: "", label: "Choose" }, ...asFoundStates.map((value) => ({ value, label: asFoundWords[value] }))],
  },
  { name: "calibratedOn", label: "Day of the certificate", kind: "date" },
  { name: "dueOn", label: "Last day of use", hint: "Empty where it is out of use.", kind: "date" },
  {
    name: "uncertaintyPercent",
    label: "Uncertainty, % of the value",
    hint: "Coverage factor 2.",
    kind: "decimal",
    value: "0",
  },
  { name: "uncertaintyFloor", label: `and in ${unit}`, kind: "decimal", value: "0" },
  { name: "certificate", label: "Certificate, or why it is out of use" },
];
