import type { Metadata } from "next";
import Link from "next/link";
import { Button } from "@/app/_components/button";
import { EmptyState } from "@/app/_components/empty-state";
import { HouseFrame } from "@/app/_components/house-frame";
import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { roleWords } from "@/lib/access/actor";
import { requireActor } from "@/lib/auth/session";
import { listToldToYou, type ToldNotice } from "@/lib/data/notices/told-to-you";
import { noticeKindWords } from "@/lib/notices/notice-kinds";
import { openToldAction, readAllToldAction } from "./actions";

export const metadata: Metadata = { title: "Messages" };

interface ToldPageProps {
  readonly searchParams: Promise<{ readonly after?: string | string[] }>;
}

export default async function ToldPage({ searchParams }: ToldPageProps) {
  const actor = await requireActor("read-told");
  const { after } = await searchParams;
  const { notices, unread, olderAfter } = await listToldToYou(actor, after);
  const [newest] = notices;
  return (
    <HouseFrame actor={actor} current="/told">
      <div className="max-w-3xl space-y-5">
        <h1>Messages to you</h1>
        <p>
          {unread === 0 ? "You have read all of it." : `${unread} not read yet.`} What goes to your office stands here,
          whether or not a letter left the house. What you have read stays unread for the others.
        </p>
        {unread === 0 || newest === undefined ? null : (
          <form action={readAllToldAction}>
            <input type="hidden" name="newest" value={newest.id} />
            <Button type="submit" weight="second">
              Mark all as read
            </Button>
          </form>
        )}
        {newest === undefined ? (
          <EmptyState title={after === undefined ? "Nothing was told to you yet" : "Nothing older"}>
            <p>Whatever asks for you or is for you to know stands here as soon as it happens.</p>
          </EmptyState>
        ) : (
          <ol className="space-y-4">
            {notices.map((notice) => (
              <ToldItem key={notice.id} notice={notice} isOfAnother={notice.office !== actor.role} />
            ))}
          </ol>
        )}
        {olderAfter === null ? null : (
          <p>
            <Link href={`/told?after=${olderAfter}`} className="inline-flex min-h-11 items-center font-semibold">
              Older
            </Link>
          </p>
        )}
      </div>
    </HouseFrame>
  );
}

function ToldItem({ notice, isOfAnother }: { notice: ToldNotice; isOfAnother: boolean }) {
  const { id, kind, office, queuedAt, subject, paragraphs, isRead } = notice;
  return (
    <li className={`card space-y-2 p-4 ${isRead ? "" : "border-l-8 border-l-accent"}`}>
      <h2 className="text-lg">
        {isRead ? null : <span className="mr-2 border-2 border-ink px-1 text-sm font-bold">Not read</span>}
        {subject}
      </h2>
      <p className="text-soft">
        {noticeKindWords[kind]}, <LocalTime at={queuedAt} />
        {isOfAnother ? `; you stand in for: ${labelOf(roleWords, office)}` : ""}
      </p>
      {paragraphs.map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
      <form action={openToldAction}>
        <input type="hidden" name="notice" value={id} />
        <Button type="submit" weight="second" aria-label={`Open it: ${subject}`}>
          Open it
        </Button>
      </form>
    </li>
  );
}
