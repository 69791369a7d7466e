import type { Metadata } from "next";
import Link from "next/link";
import { notFound } from "next/navigation";
import { HouseFrame } from "@/app/_components/house-frame";
import { type FormQuestion, QuestionForm } from "@/app/_components/question-form";
import { may } from "@/lib/access/may";
import { requireActor } from "@/lib/auth/session";
import { instrumentKinds, instrumentKindWords, instrumentUnits } from "@/lib/bench-tests/instrument-kinds";
import { listDoubtfulResults } from "@/lib/data/bench-tests/doubtful-results";
import { listInstruments } from "@/lib/data/bench-tests/instruments";
import { addInstrumentAction } from "./actions";
import { DoubtfulPart } from "./doubtful-part";
import { InstrumentCard } from "./instrument-card";

export const metadata: Metadata = { title: "Instruments" };

export default async function InstrumentsPage() {
  const actor = await requireActor("read-build-record");
  const instruments = await listInstruments(actor);
  const inDoubt = await listDoubtfulResults(actor);
  if (instruments === null || inDoubt === null) notFound();
  const mayKeep = may(actor, "keep-instruments");
  const unusable = instruments.filter(({ standing }) => standing.kind !== "usable").length;
  return (
    <HouseFrame actor={actor} current="/bench">
      <div className="space-y-8">
        <div className="space-y-2">
          <h1>Instruments of the bench</h1>
          <p>
            A number rests on its instrument: one out of calibration is refused where a result is written down, and the
            uncertainty of its certificate goes into every verdict.{" "}
            <Link
              href="/test-plans"
              className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
            >
              Test plans
            </Link>
          </p>
          {unusable === 0 ? null : (
            <p className="font-semibold text-warn">
              {unusable} of {instruments.length} must not be used today.
            </p>
          )}
        </div>
        <DoubtfulPart results={inDoubt} />
        {instruments.length === 0 ? <p>No instrument is written down yet.</p> : null}
        <div className="grid gap-4 *:min-w-0 lg:grid-cols-2">
          {instruments.map((instrument) => (
            <InstrumentCard key={instrument.code} instrument={instrument} mayKeep={mayKeep} />
          ))}
        </div>
        {mayKeep ? (
          <section className="space-y-4">
            <h2>Write down a new instrument</h2>
            <QuestionForm id="instrument" action={addInstrumentAction} questions={questions} button="Write it down" />
          </section>
        ) : null}
      </div>
    </HouseFrame>
  );
}

const questions: readonly FormQuestion[] = [
  { name: "code", label: "What is written on it", hint: "For example V-02." },
  {
    name: "kind",
    label: "Kind",
    choices: instrumentKinds.map((value) => ({
      value,
      label: `${instrumentKindWords[value]} (${instrumentUnits[value]})`,
    })),
  },
  { name: "description", label: "What it is", hint: "Range and type, for example 0 to 100 V, four digits." },
];
