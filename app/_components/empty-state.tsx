import type { ReactNode } from "react";

/** Nothing here yet: says why, and what would put something here. */
export function EmptyState({ title, children }: { title: string; children: ReactNode }) {
  return (
    <div className="border-2 border-dashed border-edge p-6">
      <p className="font-bold">{title}</p>
      <div className="mt-1 text-soft">{children}</div>
    </div>
  );
}
