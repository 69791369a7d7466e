import { Info, type LucideIcon, OctagonAlert, TriangleAlert } from "lucide-react";
import type { ReactNode } from "react";

type NoticeKind = "info" | "caution" | "danger";

const kinds: Readonly<Record<NoticeKind, { icon: LucideIcon; word: string; look: string }>> = {
  info: { icon: Info, word: "Note", look: "bg-raised border-edge text-ink" },
  caution: { icon: TriangleAlert, word: "Caution", look: "bg-warn-paper border-warn text-warn" },
  danger: { icon: OctagonAlert, word: "Danger", look: "bg-danger-paper border-danger text-danger" },
};

interface NoticeProps {
  readonly kind: NoticeKind;
  readonly title: string;
  readonly children?: ReactNode;
}

/** Something to know before the next move. Only danger carries the tape. */
export function Notice({ kind, title, children }: NoticeProps) {
  const { icon: Icon, word, look } = kinds[kind];
  return (
    <div className={`border-2 ${look}`}>
      {kind === "danger" ? <div aria-hidden className="tape" /> : null}
      <div className="p-4">
        <p className="flex items-start gap-2 font-bold">
          <Icon aria-hidden size={22} className="mt-0.5 shrink-0" />
          <span className="min-w-0 wrap-anywhere">
            <span className="sr-only">{word}: </span>
            {title}
          </span>
        </p>
        {children ? <div className="mt-2 space-y-2 text-ink">{children}</div> : null}
      </div>
    </div>
  );
}
