import { Button } from "@/app/_components/button";
import { forgetKeptDraftAction } from "./actions";
import { forgetDraft } from "./draft";

/** The way out of a form that should not be sent: another pack, or a complaint that was lodged before. */
export function StartOver({ owner, clientKey }: { owner: string; clientKey: string }) {
  async function startOver() {
    if (!window.confirm("Throw away all answers of this form?")) return;
    forgetDraft(owner);
    try {
      await forgetKeptDraftAction(clientKey);
    } catch (error) {
      // It stays in the list of what is not sent, where it can be thrown away too.
      console.warn("The workshop's copy could not be thrown away", error);
    }
    // A whole load, so that nothing of the old form, its key least of all, lives on in memory.
    window.location.assign("/dealer/returns/new");
  }
  return (
    <Button weight="plain" onClick={startOver}>
      Throw these answers away and start over
    </Button>
  );
}
