import { RevisionLink } from "./revision-link";

/** A revision's code, a link for those who may read its failure rates. */
export function RevisionName({ code, linked }: { readonly code: string; readonly linked: boolean }) {
  return linked ? <RevisionLink code={code}>{code}</RevisionLink> : code;
}
