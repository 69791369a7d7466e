import type { Letter, LetterPart } from "@/lib/letters/letter";
import { letterWords } from "@/lib/letters/letter-words";

/** The words of a letter: headings, sentences, and what is quoted set apart by a rule, so that it holds without colour. */
export function LetterText({ letter: { language, title, parts } }: { letter: Letter }) {
  return (
    <>
      <h1 className="sheet-heading-large">{title}</h1>
      {parts.map((part, index) => (
        <Part
          key={`${part.heading} ${part.paragraphs[0] ?? ""}`}
          part={part}
          goesOn={part.heading === parts[index - 1]?.heading}
        />
      ))}
      <p className="sheet-sign">{letterWords[language].signHere}</p>
    </>
  );
}

function Part({ part: { heading, paragraphs, points }, goesOn }: { part: LetterPart; goesOn: boolean }) {
  return (
    <section className="sheet-part">
      {goesOn ? null : <h2 className="sheet-heading">{heading}</h2>}
      {paragraphs.map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
      {points.length === 0 ? null : (
        <ul className="sheet-quotes">
          {points.map((point) => (
            <li key={point} dir="auto">
              {point}
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
