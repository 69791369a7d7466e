import { LocalTime } from "@/app/_components/local-time";
import { QuestionForm } from "@/app/_components/question-form";
import type { RemedyView } from "@/lib/data/remedies/remedy-view";
import { noticeLanguageWords } from "@/lib/notices/notice-kinds";
import { countryName } from "@/lib/transport/country-name";
import { consumerChoiceWords, isAskedOnly, type LegalPrompt, languagesFirstOf } from "@/lib/warranty/legal-prompts";
import { noticeShownAction } from "./actions";

type Notices = Pick<RemedyView, "reference" | "prompts" | "shown" | "country" | "counsel">;

/** What the law of the place of sale asks to be shown before a remedy, word for word; when it was, to whom it was answered. */
export function NoticePart({ remedy, mayRecord }: { remedy: Notices; mayRecord: boolean }) {
  const { prompts, shown, country, counsel } = remedy;
  if (prompts.length === 0 && shown.length === 0)
    return (
      <p>
        No notice before a remedy is on record here for this sale in {countryName(country)}. {counsel}
      </p>
    );
  return (
    <div className="space-y-5">
      <p className="text-soft">
        For a sale in {countryName(country)}. {counsel} The words are a draft for counsel, who has confirmed none of
        them.
      </p>
      {prompts.map((prompt) => (
        <OnePrompt key={prompt.kind} prompt={prompt} remedy={remedy} mayRecord={mayRecord} />
      ))}
    </div>
  );
}

function OnePrompt({ prompt, remedy, mayRecord }: { prompt: LegalPrompt; remedy: Notices; mayRecord: boolean }) {
  const { kind, texts, choices } = prompt;
  const languages = languagesFirstOf(remedy.country);
  const records = remedy.shown.filter((record) => record.kind === kind);
  return (
    <div className="space-y-3">
      {languages.map((language, place) =>
        place === 0 ? (
          <blockquote key={language} lang={language} className="border-l-4 border-accent bg-raised px-4 py-3">
            {texts[language]}
          </blockquote>
        ) : (
          <details key={language}>
            <summary className="min-h-11 cursor-pointer py-2">The same in {noticeLanguageWords[language]}</summary>
            <blockquote lang={language} className="border-l-4 border-accent bg-raised px-4 py-3">
              {texts[language]}
            </blockquote>
          </details>
        ),
      )}
      {records.length > 0 ? null : isAskedOnly(kind) ? (
        <p>The law gives the customer this choice, and nobody has recorded it yet. It holds nothing up.</p>
      ) : (
        <p className="font-semibold text-warn">Not shown to the customer yet.</p>
      )}
      <ul>
        {records.map(({ choice, shownAt, shownByName }) => (
          <li key={shownAt.toISOString()}>
            {isAskedOnly(kind) ? "Asked" : "Shown"} on <LocalTime at={shownAt} /> by {shownByName}. The customer said:{" "}
            <strong>{sayChoice(choice)}</strong>.
          </li>
        ))}
      </ul>
      {mayRecord ? (
        <QuestionForm
          id={`notice-${kind}`}
          action={noticeShownAction}
          hidden={{ reference: remedy.reference, kind }}
          questions={[
            {
              name: "choice",
              label: "The customer has read it, and says",
              choices: [
                { value: "", label: "Choose" },
                ...choices.map((value) => ({ value, label: consumerChoiceWords[value] })),
              ],
            },
            {
              name: "language",
              label: "Read in",
              hint: "A customer who reads none of these has to be told in a language of their own.",
              value: languages[0],
              choices: languages.map((value) => ({ value, label: noticeLanguageWords[value] })),
            },
          ]}
          button={
            records.length > 0
              ? "Record another answer"
              : isAskedOnly(kind)
                ? "Record what the customer chose"
                : "Record that it was shown"
          }
        />
      ) : null}
    </div>
  );
}

function sayChoice(stored: string | null): string {
  if (stored === null) return "nothing yet";
  return Object.entries(consumerChoiceWords).find(([known]) => known === stored)?.[1] ?? stored;
}
