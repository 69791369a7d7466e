import type { ReactNode } from "react";
import { GroupLink } from "./group-link";

export function RevisionLink({ code, children }: { code: string; children: ReactNode }) {
  return (
    <GroupLink by="revision" group={code}>
      {children}
    </GroupLink>
  );
}
