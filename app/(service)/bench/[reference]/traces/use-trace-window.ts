import { useEffect, useState } from "react";
import { readTraceWindowAnswer } from "@/lib/readings/trace-picture.schema";
import type { TraceWindow } from "@/lib/readings/trace-window";
import type { Span } from "./window-moves";

export type WindowState =
  | { readonly kind: "loading"; readonly before: TraceWindow | null }
  | { readonly kind: "shown"; readonly window: TraceWindow }
  | { readonly kind: "failed"; readonly before: TraceWindow | null };

/** Fetches what a span shows. While it is fetched, and where that fails, what was shown before stays. */
export function useTraceWindow(reference: string, span: Span | null, groups: readonly number[]): WindowState {
  const [state, setState] = useState<WindowState>({ kind: "loading", before: null });
  const named = groups.join(",");
  useEffect(() => {
    if (span === null) return;
    const abort = new AbortController();
    setState((now) => ({ kind: "loading", before: shownIn(now) }));
    const query = new URLSearchParams({ from: String(span.fromRow), to: String(span.toRow), groups: named });
    fetch(`/bench/${reference}/traces?${query}`, { signal: abort.signal })
      .then(async (answer) => (answer.ok ? readTraceWindowAnswer(await answer.json()) : null))
      .then((window) => {
        setState((now) => (window === null ? { kind: "failed", before: shownIn(now) } : { kind: "shown", window }));
      })
      .catch(() => {
        if (!abort.signal.aborted) setState((now) => ({ kind: "failed", before: shownIn(now) }));
      });
    return () => abort.abort();
  }, [reference, span, named]);
  return state;
}

export function shownIn(state: WindowState): TraceWindow | null {
  return state.kind === "shown" ? state.window : state.before;
}
