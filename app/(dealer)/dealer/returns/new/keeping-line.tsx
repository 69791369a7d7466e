import { Button } from "@/app/_components/button";
import { Notice } from "@/app/_components/notice";
import { fetchDraftAction } from "./actions";
import type { Keeping } from "./use-kept-draft";

interface KeepingLineProps {
  readonly keeping: Keeping;
  readonly isDanger: boolean;
  readonly clientKey: string;
  readonly onGoOn: (version: number) => void;
}

/** Whether what is answered waits on this device: nobody else has it. */
export function isUntold(keeping: Keeping): boolean {
  return keeping === "on-this-device" || keeping === "someone-went-on";
}

/** Where the answers are kept; and, where another device went on with them, the choice between the two. */
export function KeepingLine({ keeping, isDanger, clientKey, onGoOn }: KeepingLineProps) {
  switch (keeping) {
    case "nothing-yet":
      return null;
    case "for-the-workshop":
      return <p className="text-soft">Kept for your workshop: go on here or on another device.</p>;
    case "on-this-device":
      return (
        <p className={isDanger ? "font-bold text-danger" : "text-soft"}>
          Kept on this device only: the server could not be reached. It is tried again by itself while this page is
          open.
          {isDanger ? " The maker does not know of the danger yet: call." : null}
        </p>
      );
    case "sent-already":
      return (
        <Notice kind="caution" title="This return was sent meanwhile, from another device">
          <p>It stands under your returns. Nothing more needs to be sent.</p>
        </Notice>
      );
    case "in-another-tab":
      return (
        <Notice kind="caution" title="This return goes on in another tab">
          <p>What is typed here is not kept any more. Go on there, or take it over here.</p>
          <div className="flex flex-wrap gap-3">
            <Button weight="second" onClick={() => window.location.reload()}>
              Show what is kept
            </Button>
            <Button
              weight="second"
              onClick={async () => onGoOn((await fetchDraftAction(clientKey))?.serverVersion ?? 0)}
            >
              Go on with mine
            </Button>
          </div>
        </Notice>
      );
    case "someone-went-on":
      return (
        <Notice kind="caution" title="Somebody went on with this return on another device">
          <p>Nothing of theirs was changed. Choose which answers go on.</p>
          <div className="flex flex-wrap gap-3">
            <Button
              weight="second"
              onClick={() => window.location.assign(`/dealer/returns/new?draft=${clientKey}&theirs=1&step=check`)}
            >
              Show their answers
            </Button>
            <Button
              weight="second"
              onClick={async () => {
                const theirs = await fetchDraftAction(clientKey);
                if (theirs !== null) onGoOn(theirs.serverVersion);
              }}
            >
              Go on with mine
            </Button>
          </div>
        </Notice>
      );
    default: {
      const never: never = keeping;
      return never;
    }
  }
}
