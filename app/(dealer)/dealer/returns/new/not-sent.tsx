import { Notice } from "@/app/_components/notice";

/** Beside the button that was pressed: whoever sends stands at the end of the page. */
export function NotSent({ failure }: { failure: string | null }) {
  return (
    <div role="alert">
      {failure === null ? null : (
        <Notice kind="caution" title="Not sent yet">
          <p>{failure}</p>
        </Notice>
      )}
    </div>
  );
}
