import { CircleCheck, CircleDot, type LucideIcon, OctagonAlert, TriangleAlert } from "lucide-react";

export type StatusTone = "plain" | "good" | "warn" | "danger";

const tones: Readonly<Record<StatusTone, { icon: LucideIcon; look: string }>> = {
  plain: { icon: CircleDot, look: "text-accent" },
  good: { icon: CircleCheck, look: "text-good" },
  warn: { icon: TriangleAlert, look: "text-warn" },
  danger: { icon: OctagonAlert, look: "text-danger" },
};

/** A stamped mark: shape and word say it, colour repeats it. */
export function Stamp({ tone = "plain", children }: { tone?: StatusTone; children: string }) {
  const { icon: Icon, look } = tones[tone];
  return (
    <span className={`stamped ${look}`}>
      <Icon aria-hidden size={16} className="shrink-0" />
      {children}
    </span>
  );
}

interface StatusLineProps {
  readonly status: string;
  readonly tone?: StatusTone;
  /** Whose turn it is, e.g. "Your turn". */
  readonly turn: string;
  /** What happens next, one sentence. */
  readonly next: string;
}

/** Where a thing stands, whose turn it is, what happens next: always together, always in this order. */
export function StatusLine({ status, tone = "plain", turn, next }: StatusLineProps) {
  return (
    <div className="space-y-1">
      <p className="flex flex-wrap items-center gap-x-3 gap-y-1">
        <Stamp tone={tone}>{status}</Stamp>
        <strong>{turn}</strong>
      </p>
      <p>{next}</p>
    </div>
  );
}
