import { Button } from "@/app/_components/button";
import { forgetDraft } from "./draft";

/** The way out of a form that should not be sent: another pack, or a complaint that was lodged before. */
export function StartOver({ owner }: { owner: string }) {
  function startOver() {
    if (!window.confirm("Throw away all answers of this form?")) return;
    forgetDraft(owner);
    // A whole load, so that nothing of the old form, its key least of all, lives on in memory.
    window.location.assign("/dealer/returns/new");
  }
  return (
    <Button weight="plain" onClick={startOver}>
      Throw these answers away and start over
    </Button>
  );
}
