/** Everything half written on this device lies under this prefix, so that signing out can find it. */
export const draftPrefix = "returns-bench.draft.";

/** Removes all drafts of this device. A browser that refuses storage has none. */
export function forgetDrafts(): void {
  try {
    for (const key of Object.keys(localStorage)) if (key.startsWith(draftPrefix)) localStorage.removeItem(key);
  } catch (error) {
    console.warn("Drafts on this device could not be removed", error);
  }
}

/** Whether this person left something half written on this device. */
export function hasDraft(owner: string): boolean {
  try {
    return localStorage.getItem(draftPrefix + owner) !== null;
  } catch {
    // A browser that refuses storage has kept nothing.
    return false;
  }
}
