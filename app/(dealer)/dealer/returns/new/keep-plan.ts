/** Long enough that a sentence is typed in one go, short enough that a telephone put away loses little. Own choice. */
const QUIET_MS = 1500;
/** Between two tries while the server cannot be reached and nothing changes. Own choice. */
const RETRY_MS = 30_000;

export interface KeepStanding {
  /** The answers on the screen, as text; null before the form has told them once. */
  readonly current: string | null;
  /** The answers as the server has them; null where it may have none or others. */
  readonly reached: string | null;
  /** Another tab or device went on with them, or they were sent: this one sends nothing by itself. */
  readonly isShut: boolean;
}

/** The answers changed; the network came back; or a try to keep them has just failed. */
export type KeepOccasion = "changed" | "online" | "failed";

/** How many milliseconds until the answers are sent to be kept; null where the server has them, or this tab keeps still. */
export function waitBeforeKeeping({ current, reached, isShut }: KeepStanding, occasion: KeepOccasion): number | null {
  if (isShut || current === null || current === reached) return null;
  switch (occasion) {
    case "changed":
      return QUIET_MS;
    case "online":
      return 0;
    case "failed":
      return RETRY_MS;
    default: {
      const never: never = occasion;
      return never;
    }
  }
}
