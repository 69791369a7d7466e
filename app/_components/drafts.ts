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

/** The key of what this person left half written on this device; null where there is nothing. */
export function keyOfDraft(owner: string): string | null {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(draftPrefix + owner) ?? "null");
    if (typeof kept !== "object" || kept === null || !("answers" in kept)) return null;
    const { answers } = kept;
    if (typeof answers !== "object" || answers === null || !("clientKey" in answers)) return null;
    return String(answers.clientKey);
  } catch {
    // A browser that refuses storage has kept nothing.
    return null;
  }
}
