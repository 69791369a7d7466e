import Link from "next/link";
import { notFound } from "next/navigation";
import { requireActor } from "@/lib/auth/session";
import { type LetterKind, readLetter } from "@/lib/data/remedies/letters";
import { noticeLanguages } from "@/lib/notices/notice-kinds";
import { LetterText } from "./letter-text";
import { NothingPrinted } from "./nothing-printed";
import type { SheetPageProps } from "./open-sheet";
import { paperFacts, readPaper } from "./papers";
import { PrintNow } from "./print-now";

const offered = ["a4", "letter"] as const;
const languageNames = { en: "English", de: "Deutsch", es: "Español" } as const;

/** A letter to the customer on the paper and in the language chosen; the person who prints it signs by hand. */
export async function LetterPage({ params, searchParams, kind }: SheetPageProps & { kind: LetterKind }) {
  const actor = await requireActor("read-build-record", "read-own-returns");
  const { reference } = await params;
  const asked = await searchParams;
  const found = await readLetter(actor, reference, kind, noticeLanguages.find((one) => one === asked.lang) ?? null);
  if (found === null) notFound();
  const back = actor.dealerId === null ? `/bench/${found.reference}` : `/dealer/returns/${found.reference}`;
  const { outcome, language } = found;
  if (outcome.kind === "undecided") return <NothingPrinted sentence={outcome.sentence} back={back} />;
  if (outcome.kind === "incomplete")
    return <NothingPrinted sentence={`The letter is not complete: ${outcome.missing.join(" ")}`} back={back} />;
  const paper = readPaper(asked.paper, offered);
  const { size, marginMm } = paperFacts[paper];
  const [width = "210mm"] = size.split(" ");
  const link = "flex min-h-11 items-center font-semibold underline underline-offset-4 aria-[current=page]:no-underline";
  return (
    <>
      {/* The one thing a style sheet cannot know beforehand: which paper was chosen. */}
      <style>{`@page { size: ${size}; margin: ${marginMm}mm; }`}</style>
      <header className="screen-only flex flex-wrap items-center gap-x-5 gap-y-2 border-b-2 border-ink bg-raised p-4">
        <PrintNow />
        <nav aria-label="Language" className="flex flex-wrap gap-x-4">
          {noticeLanguages.map((one) => (
            <Link
              key={one}
              href={`?lang=${one}&paper=${paper}`}
              hrefLang={one}
              aria-current={one === language ? "page" : undefined}
              className={link}
            >
              {languageNames[one]}
            </Link>
          ))}
        </nav>
        <nav aria-label="Paper" className="flex flex-wrap gap-x-4">
          {offered.map((one) => (
            <Link
              key={one}
              href={`?lang=${language}&paper=${one}`}
              aria-current={one === paper ? "page" : undefined}
              className={link}
            >
              {paperFacts[one].label}
            </Link>
          ))}
        </nav>
        <Link href={back} className={link}>
          Back
        </Link>
      </header>
      <main lang={language} className={`sheet sheet-on-${paper}`} style={{ width, padding: `${marginMm}mm` }}>
        <LetterText letter={outcome.letter} />
      </main>
    </>
  );
}
