import type { Metadata } from "next";
import Link from "next/link";
import { DealerFrame } from "@/app/_components/dealer-frame";
import { EmptyState } from "@/app/_components/empty-state";
import { LocalTime } from "@/app/_components/local-time";
import { requireActor } from "@/lib/auth/session";
import { listDealerNotices } from "@/lib/data/notices/notices";
import { listOwnHeldBack } from "@/lib/data/safety/own-held-back";
import type { NoticeLanguage } from "@/lib/notices/notice-kinds";
import { HeldBackPart } from "./held-back-part";

export const metadata: Metadata = { title: "Messages" };

/** In the language of the message that it opens. */
const openIt: Readonly<Record<NoticeLanguage, string>> = { en: "Open it", de: "Öffnen", es: "Abrir" };

export default async function NoticesPage() {
  const actor = await requireActor("read-own-returns");
  const notices = await listDealerNotices(actor);
  const heldBack = await listOwnHeldBack(actor);
  return (
    <DealerFrame actor={actor} current="/dealer/notices">
      <div className="space-y-5">
        <h1>What the maker told you</h1>
        <HeldBackPart packs={heldBack} />
        {notices.length === 0 ? (
          <EmptyState title="No message yet">
            <p>
              Whenever something happens with one of your returns, it stands here, and in your mail where that is set
              up.
            </p>
          </EmptyState>
        ) : (
          <ol className="space-y-4">
            {notices.map(({ id, kind, subject, paragraphs, queuedAt, language, link }) => (
              <li key={id} className={`card space-y-2 p-4 ${kind === "safety" ? "border-2 border-danger" : ""}`}>
                <h2 lang={language} className="text-lg">
                  {subject}
                </h2>
                <p className="text-soft">
                  <LocalTime at={queuedAt} />
                </p>
                {paragraphs.map((paragraph) => (
                  <p key={paragraph} lang={language}>
                    {paragraph}
                  </p>
                ))}
                <Link
                  href={link}
                  className="inline-flex min-h-11 items-center font-semibold text-accent underline underline-offset-4"
                >
                  <span lang={language}>{openIt[language]}</span>
                </Link>
              </li>
            ))}
          </ol>
        )}
      </div>
    </DealerFrame>
  );
}
