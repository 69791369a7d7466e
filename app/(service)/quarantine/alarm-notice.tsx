import Link from "next/link";
import { Notice } from "@/app/_components/notice";
import type { QuarantineBoard } from "@/lib/data/receiving/quarantine-board";

interface AlarmNoticeProps {
  readonly kind: "danger" | "caution";
  readonly title: string;
  readonly alarms: QuarantineBoard["alarms"];
}

/** Everything of one gravity that somebody must act on, with the way to the pack. */
export function AlarmNotice({ kind, title, alarms }: AlarmNoticeProps) {
  if (alarms.length === 0) return null;
  return (
    <Notice kind={kind} title={title}>
      <ul className="space-y-1">
        {alarms.map(({ reference, sentence }) => (
          <li key={`${reference} ${sentence}`}>
            {sentence}{" "}
            {reference === null ? null : (
              <Link href={`/bench/${reference}/receiving`} className="whitespace-nowrap">
                {reference}
              </Link>
            )}
          </li>
        ))}
      </ul>
    </Notice>
  );
}
