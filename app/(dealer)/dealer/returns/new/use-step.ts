import { useSearchParams } from "next/navigation";
import { useEffect, useRef } from "react";
import type { StepName } from "./steps";

/**
 * The step as it stands in the address, so that the browser's own Back goes one question back and a reload stays where
 * it was. `returnsToCheck` is set while one answer is being changed from the last page.
 */
export function useStep() {
  const search = useSearchParams();
  const pushed = useRef(0);

  useEffect(() => {
    const popped = () => {
      pushed.current = Math.max(0, pushed.current - 1);
    };
    window.addEventListener("popstate", popped);
    return () => window.removeEventListener("popstate", popped);
  }, []);

  return {
    asked: search.get("step"),
    returnsToCheck: search.get("then") === "check",
    go(step: StepName, then?: "check") {
      pushed.current += 1;
      window.history.pushState(null, "", addressOf(step, then));
    },
    /** Our own Back: the same as the browser's where it would stay in the form. */
    back(step: StepName) {
      if (pushed.current > 0) window.history.back();
      else window.history.replaceState(null, "", addressOf(step));
    },
  };
}

export function addressOf(step: StepName, then?: "check"): string {
  return then === undefined ? `?step=${step}` : `?step=${step}&then=${then}`;
}
