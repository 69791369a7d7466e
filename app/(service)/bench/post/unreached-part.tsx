import { labelOf } from "@/app/_components/label-of";
import { LocalTime } from "@/app/_components/local-time";
import { Notice } from "@/app/_components/notice";
import { roleWords } from "@/lib/access/actor";
import type { UnreachedAudience } from "@/lib/data/notices/notice-audience";

/** Offices and dealers that messages were for and that no open account belongs to; nothing where there are none. */
export function UnreachedPart({ audiences }: { audiences: readonly UnreachedAudience[] }) {
  if (audiences.length === 0) return null;
  return (
    <Notice kind="caution" title="These messages reach nobody">
      <p>No open account belongs to whom they are for. Open one, or give somebody the role; tell them another way.</p>
      <ul className="list-disc pl-5">
        {audiences.map(({ dealerName, role, messages, lastQueuedAt }) => (
          <li key={`${dealerName} ${role}`}>
            {dealerName ?? (role === null ? "The house" : labelOf(roleWords, role))}: {messages}{" "}
            {messages === 1 ? "message" : "messages"} in the last 30 days, the last <LocalTime at={lastQueuedAt} />
          </li>
        ))}
      </ul>
    </Notice>
  );
}
